// Mirrors core/methods/inner_sleeve.py and inner_sleeve_geometry.py: a tube inside the damaged tube, welded through a diagonal gap.

import { Clearance, clearance } from "../fit.js";
import { general } from "../python.js";
import { down, fineText, near, quantity, rulerText, up } from "../quantity.js";
import { DEFERENCE, sources } from "../rules.js";
import { radians, requiredOverlap, weldLine } from "../sleeve.js";
import { diameterTolerance, wallTolerance } from "../tolerances.js";
import {
  blank, clearanceBlock, echoOf, holes, largestHole, materialNotes, number, overlapText, ranked, spliceSummary, tubeEcho, typedQuantity,
} from "./common.js";
import { allChecks } from "./inner_sleeve_checks.js";
import { readInnerJob } from "./inner_sleeve_input.js";
import { options } from "./inner_sleeve_options.js";

export const SLEEVES = 2;

// L = 3 D + D T + g
export const innerRuleLength = (D, gap, cut) => 2 * requiredOverlap(D) + cut.depth(D / 2) + gap;
export const innerOverlap = (length, D, gap, cut) => (length - cut.depth(D / 2) - gap) / 2;
const gapAcross = (gap, cut) => gap * Math.cos(radians(cut.mitreDeg));

// As core.fit's, with the parts swapped; a turned sleeve has no mill tolerance.
export function innerClearance(job, outer) {
  const fit = clearance(job.sleeve, outer);
  if (!job.turned) return fit;
  const over = diameterTolerance(job.sleeve.D) ?? 0;
  const byWall = fit.byWallMin === null ? null : fit.byWallMin + over;
  return new Clearance(fit.nominal, fit.worstMin + over, fit.worstMax, byWall, fit.byWallMax);
}

export const size = (data) => result(readInnerJob(data));

export function result(job) {
  const { cut, metric } = job;
  const [D, g] = [job.tube.D, Number(job.gap)];
  const rule = innerRuleLength(D, g, cut);
  const cutTo = blank(rule, metric);
  const judged = job.length ? Number(job.length) : rule;
  const [reach, need] = [innerOverlap(judged, D, g, cut), requiredOverlap(D)];
  const fit = innerClearance(job, job.tube);
  const spareFit = job.replacementGiven ? innerClearance(job, job.replacement) : null;
  const checks = allChecks(job, reach, fit, spareFit);
  const made = {
    method: "inner-sleeve",
    input: echo(job),
    length: {
      rule: quantity(rule, rulerText(rule, metric, "up")),
      rule_surface: "between the sleeve's square ends",
      blank: quantity(cutTo, rulerText(cutTo, metric, "up")),
      ...(job.length ? { given: typedQuantity(job.length) } : {}),
    },
    overlap: {
      required: up(need, metric),
      given: quantity(reach, overlapText(reach, need, metric)),
      judged_at: job.length ? job.length.typed : "rule length",
      measured: "sleeve end to the nearest end of the diagonal cut, on the tube's outside, each side",
    },
    stub_cut: {
      mitre_deg: cut.mitreDeg, to_axis_deg: 90 - cut.mitreDeg, depth: near(cut.depth(D / 2), metric),
      gap_axial: quantity(g, job.gap.typed), gap_across: near(gapAcross(g, cut), metric),
    },
    weld_line: near(weldLine(D, cut), metric),
    clearance: {
      ...clearanceBlock(fit, metric),
      ...(job.bead ? { with_bead: clearanceBlock(fit, metric, Number(job.bead)) } : {}),
      ...(spareFit ? { in_replacement: clearanceBlock(spareFit, metric) } : {}),
    },
    wall_left: near(job.sleeve.t, metric),
    rosette: rosettes(job, innerOverlap(job.length ? Number(job.length) : cutTo, D, g, cut)),
    options: options(job),
    checks,
    assumptions: assumptions(job),
    sources: sources("inner-sleeve", "dom", "rosette", "plug", "seam-practice"),
    warnings: ranked(checks, notes(job)),
    deference: DEFERENCE,
  };
  return { ...made, numbers: numbersOf(job, made), order: order(made) };
}

function rosettes(job, reach) {
  const sizes = holes(job.sleeve.od.inches, job.tube, job.metric);
  const place = Math.max(reach, 0) / 2;
  return {
    sizes,
    per_side: 2,
    from_cut: near(place, job.metric),
    edge_room: down(place - largestHole(sizes) / 2, job.metric),
    where: "Half of the overlap back from the nearest end of the cut, on two opposite sides of the tube.",
    count_source: "common practice, no source; the circular gives no count",
    drill: "Drill the tube and the replacement only, never the sleeve.",
  };
}

const echo = (job) => ({
  tube: tubeEcho(job.tube, job.metric), sleeve: tubeEcho(job.sleeve, job.metric),
  sleeve_bought: tubeEcho(job.bought, job.metric), replacement: tubeEcho(job.replacement, job.metric),
  mitre_deg: job.cut.mitreDeg, gap: job.gap.echo(), length: echoOf(job.length),
  bead: echoOf(job.bead), turned_od: echoOf(job.turned), units: job.metric ? "mm" : "in",
});

const span = (low, high) => `${low.text} to ${high.text}`;

function numbersOf(job, made) {
  const { clearance: fit, length, overlap, rosette, stub_cut: stub } = made;
  return [
    number("Sleeve blank", length.blank, `Square ends. Cut ${SLEEVES}, one for each cut.`),
    number("Saw mitre from square", `${general(stub.mitre_deg)}°`, `${general(stub.to_axis_deg)}° to the tube's axis.`),
    number("Cut depth along the tube", stub.depth, "On the tube's outside, tip to heel."),
    number("Gap along the axis", stub.gap_axial, `Square across the slant: ${stub.gap_across.text}.`),
    number("Overlap needed", overlap.required, "Sleeve end past the nearest end of the cut, each side."),
    number("Overlap given", overlap.given, `Each side, at ${overlap.judged_at}.`),
    number("Clearance on paper", fit.nominal, "Tube inside minus sleeve outside, diameters."),
    number("Clearance at worst", span(fit.worst_min, fit.worst_max), "Tube held by its inside diameter."),
    ...(fit.by_wall_min ? [number("Clearance at worst", span(fit.by_wall_min, fit.by_wall_max), "Tube bought by outside diameter and wall.")] : []),
    ...(job.bead ? [number("Clearance past the bead", fit.with_bead.nominal, `The bead takes ${job.bead.typed} once, not twice.`)] : []),
    ...(job.turned ? [number("Sleeve wall after turning", made.wall_left, `Turned to ${job.turned.typed}.`)] : []),
    number("Rosette hole", rosette.sizes[0].diameter, `In the tube, not the sleeve. ${rosette.sizes[0].source}`),
    number("Hole from the cut", rosette.from_cut, rosette.where),
    number("Weld line, each cut", made.weld_line, "Round the tube's outside, along the slant."),
    number("Shortest replacement to hide both sleeves", up(2 * madeLength(job), job.metric), "On its shortest side."),
    number("Rule length", length.rule, "3 D + D × tan(mitre) + gap."),
  ];
}

export const madeLength = (job) =>
  job.length ? Number(job.length) : blank(innerRuleLength(job.tube.D, Number(job.gap), job.cut), job.metric);

const order = ({ length, stub_cut: stub }) => [
  "Brace the frame across the damage.",
  "Feel inside the tube for a weld bead.",
  `Cut the damage out on the slant: saw at ${general(stub.mitre_deg)}° from square.`,
  `Cut the replacement on the same slant. Leave ${stub.gap_axial.text} along the axis at each cut.`,
  `Cut two sleeves: ${(length.given ?? length.blank).text}. Square ends.`,
  "Deburr every end, inside and outside.",
  "Scribe a line round the middle of each sleeve.",
  "Drill rosette holes in the tube and the replacement, if used. Deburr inside.",
  "Slide both sleeves into the replacement.",
  "Set the replacement in line between the stubs.",
  "Draw each sleeve out until its middle line shows in the gap.",
  "Measure the reach of each sleeve past the nearest end of its cut.",
  "Check alignment. Tack.",
  "Weld the first gap all round, into the sleeve.",
  "Let it cool completely.",
  "Weld the second gap all round, into the sleeve.",
];

function assumptions(job) {
  const notes = [
    "The sleeve sits with its middle in the middle of the gap.",
    "Both faces of the gap lie on the same slant. The cut is a flat saw cut.",
    "The gap is counted along the tube's axis. The circular's 1/8 in does not say which way it is measured (from memory).",
    "Worst case uses the DOM tolerances of ASTM A513 type 5. A used or bent tube can be outside them: measure both.",
  ];
  for (const [what, part] of [["tube", job.tube], ["sleeve", job.sleeve]]) {
    if (what === "sleeve" && job.turned) {
      notes.push("The sleeve is turned: its outside diameter is taken as measured, with no mill tolerance. Its bore is taken as central.");
      continue;
    }
    if (part.material.process !== "dom") {
      notes.push(`The ${what} is ${part.material.name}; its own tolerance table is not at hand, so the DOM table stands in.`);
    }
    if (diameterTolerance(part.D) === null) notes.push(`The ${what} is past the diameter tolerance table; no tolerance is counted for it.`);
  }
  const wall = wallTolerance(job.tube.D, job.tube.t);
  if (wall === null) notes.push("The tube's wall is past the wall tolerance table; only the diameter tolerance is counted.");
  else if (!wall.listed) notes.push("The tube's wall is between two rows of the wall table; the thicker row is used.");
  if (!job.replacementGiven) notes.push("The replacement is the same tube as the damaged one.");
  if (job.bead) notes.push("The bead runs along one side, so it takes its height once from the diameter that is free.");
  return notes;
}

const notes = (job) => [
  [2, `The gap is ${job.gap.typed} along the axis: ${fineText(gapAcross(Number(job.gap), job.cut), job.metric)} square across the slant. ` +
    "If your rule measures it square across, enter the gap along the axis that gives it."],
  ...materialNotes({ Tube: job.tube, Sleeve: job.sleeve }),
];

export function summary(data) {
  const job = readInnerJob(data);
  const hole = holes(job.sleeve.od.inches, job.tube, job.metric)[0].diameter.text;
  return spliceSummary("inner sleeve", "inner-sleeve", job.tube, job.sleeve, job.cut, result(job).length, job.metric,
    { hole_diameter: hole, sleeves: SLEEVES });
}
