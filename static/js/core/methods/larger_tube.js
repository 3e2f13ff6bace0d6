// Mirrors core/methods/larger_tube.py: a larger replacement tube over both stubs and the opening.

import { clearance, toleranceNotes } from "../fit.js";
import { general } from "../python.js";
import { down, near, quantity, rulerText, up } from "../quantity.js";
import { stations } from "../rosette.js";
import { DEFERENCE, sources } from "../rules.js";
import { overlaps, requiredOverlap, ruleLength, weldLine } from "../sleeve.js";
import {
  blank, clearanceBlock, echoOf, holes, largestHole, materialNotes, number, overlapText, ranked, spliceSummary, tubeEcho, typedQuantity,
} from "./common.js";
import { LONG_STUB, SHORT_STUB, allChecks } from "./larger_tube_checks.js";
import { readLargerJob } from "./larger_tube_input.js";

const fittingTravel = (length, opening) => Math.max(length - opening, 0);
const cover = (length, opening) => (length - opening) / 2;

export const size = (data) => result(readLargerJob(data));

export function result(job) {
  const { cut, g, metric, tube, sleeve } = job;
  const rule = ruleLength(tube.D, sleeve.D, g, cut);
  const cutTo = blank(rule, metric);
  const madeTo = job.length ? Number(job.length) : cutTo;
  const need = requiredOverlap(tube.D);
  const reach = overlaps(job.length ? Number(job.length) : rule, tube, sleeve, g, cut);
  // The stubs must take the tube that is really made, so travel and cover go by the blank.
  const [travel, hidden] = [fittingTravel(madeTo, g), cover(madeTo, g)];
  const checks = allChecks(job, reach[0][1], hidden, travel);
  const made = {
    method: "larger-tube",
    input: echo(job),
    length: {
      rule: quantity(rule, rulerText(rule, metric, "up")),
      rule_surface: "tip to tip on the new tube's outside",
      blank: quantity(cutTo, rulerText(cutTo, metric, "up")),
      cut_depth: near(cut.depth(sleeve.D / 2), metric),
      ...(job.length ? { given: typedQuantity(job.length) } : {}),
    },
    overlap: {
      required: up(need, metric),
      judged_at: job.length ? job.length.typed : "rule length",
      ...Object.fromEntries(reach.map(([name, value]) => [name, quantity(value, overlapText(value, need, metric))])),
    },
    stubs: { short_least: up(SHORT_STUB * tube.D, metric), long_least: up(LONG_STUB * tube.D, metric) },
    travel: up(travel, metric),
    cover: up(hidden, metric),
    weld_line: near(weldLine(tube.D, cut), metric),
    clearance: clearanceBlock(clearance(tube, sleeve), metric),
    rosette: rosettes(job, madeTo),
    checks,
    assumptions: assumptions(job),
    sources: sources("larger-tube", "dom", "rosette", "plug", "rosette-practice", "seam-practice"),
    warnings: ranked(checks, [
      [2, "Not near clusters, nor where a bracket needs the old diameter."], ...materialNotes({ "Old tube": tube, "New tube": sleeve }),
    ]),
    deference: DEFERENCE,
  };
  return { ...made, numbers: numbersOf(job, made), order: order(job, made) };
}

function rosettes(job, madeTo) {
  const { metric } = job;
  const sizes = holes(job.tube.od.inches, job.sleeve, metric);
  const largest = largestHole(sizes);
  const places = stations(madeTo, job.sleeve.D, job.g, job.cut);
  return {
    sizes,
    per_end: places.length,
    stations: places.map((place) => ({
      angle_deg: place.angleDeg, from_tip: near(place.fromTip, metric), from_middle: near(place.fromMiddle, metric),
      edge_room: down(place.edgeRoom(largest), metric),
    })),
    drill: "Drill the new tube only, never the stub.",
  };
}

const echo = (job) => ({
  tube: tubeEcho(job.tube, job.metric), sleeve: tubeEcho(job.sleeve, job.metric), end: job.cut.end,
  mitre_deg: job.cut.mitreDeg, opening: job.opening.echo(), stub_short: echoOf(job.stubShort),
  stub_long: echoOf(job.stubLong), length: echoOf(job.length), units: job.metric ? "mm" : "in",
});

const mitreText = ({ cut }) => (cut.end === "square" ? "square" : `${general(cut.mitreDeg)}°`);
const span = (low, high) => `${low.text} to ${high.text}`;

function numbersOf(job, made) {
  const { clearance: fit, length, overlap, rosette, stubs } = made;
  return [
    number("New tube blank", length.blank, "Tip to tip on its outside."),
    number("Saw mitre from square", mitreText(job), `Shape: ${job.cut.end}, both ends.`),
    number("Cut depth", length.cut_depth, "Along the new tube's outside, tip to crotch or heel."),
    number("Short stub at least", stubs.short_least, "2.5 D, end to the nearest joint, bend or tab."),
    number("Long stub at least", stubs.long_least, "4.5 D."),
    number("Long stub to slide on", made.travel, "Bare stub the new tube needs while its other end clears the short stub."),
    number("Stub under the new tube", made.cover, "Each side, to the tips."),
    number("Overlap needed", overlap.required, "Nearest metal past each stub end."),
    number("Overlap given", overlap.sleeve_outside, `On the new tube's outside, at ${overlap.judged_at}.`),
    number("Clearance on paper", fit.nominal, "New tube inside minus old tube outside, diameters."),
    number("Clearance at worst", span(fit.worst_min, fit.worst_max), "New tube held by its inside diameter."),
    ...(fit.by_wall_min ? [number("Clearance at worst", span(fit.by_wall_min, fit.by_wall_max), "New tube bought by outside diameter and wall.")] : []),
    number("Rosette hole", rosette.sizes[0].diameter, `In the new tube, not the stub. ${rosette.sizes[0].source}`),
    ...(rosette.stations.length ? [number("Hole from the tip", rosette.stations[0].from_tip, `On each tip line, ${rosette.per_end} an end.`)] : []),
    number("Weld line, each end", made.weld_line, "Round the old tube's outside."),
    number("Rule length", length.rule, "Opening + 3 D + 2 × cut depth, tip to tip on the outside."),
  ];
}

const order = (job, { length, overlap }) => [
  "Brace the frame across the damage.",
  "Cut the damage out square, past every crack.",
  "Measure both stubs to the nearest joint, bend or tab.",
  `Cut the new tube: ${(length.given ?? length.blank).text} tip to tip.`,
  `Cut both ends: ${job.cut.end}${job.cut.end === "square" ? "." : `, saw at ${mitreText(job)} from square.`}`,
  ...(job.cut.end === "fishmouth" ? ["File each crotch to a radius with a small round file."] : []),
  "Deburr the new tube and the stubs.",
  `Mark the reach on each stub: ${overlap.required.text} back from its end.`,
  "Slide the new tube fully onto the long stub.",
  "Align the stubs.",
  "Slide the new tube back over the short stub.",
  "Centre it on the opening. Check the marks.",
  "Tack each end in two places.",
  "Weld one end all round.",
  "Let it cool completely.",
  "Weld the other end all round.",
];

const assumptions = (job) => [
  "The new tube sits with its middle over the middle of the opening.",
  "The stub ends are square. Lengths are tip to tip on the new tube's outside, ends as flat saw cuts.",
  "Sliding on: the stubs stay in line and where they are, and the long stub is straight and bare.",
  "The 4.5 D of the circular covers a square-ended tube. A cut end is longer and needs more of the long stub (by hand).",
  ...toleranceNotes(job.tube, job.sleeve).map((note) => note.replaceAll("sleeve", "new tube")),
];

export function summary(data) {
  const job = readLargerJob(data);
  const hole = holes(job.tube.od.inches, job.sleeve, job.metric)[0].diameter.text;
  return spliceSummary("larger tube", "larger-tube", job.tube, job.sleeve, job.cut, result(job).length, job.metric,
    { hole_diameter: hole, end_shape: job.cut.end });
}
