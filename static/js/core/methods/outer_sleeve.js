// Mirrors core/methods/outer_sleeve.py: sizes one outer sleeve.

import { clearance, fitChecks, toleranceNotes } from "../fit.js";
import { down, fineText, near, quantity, rulerText, up } from "../quantity.js";
import { stations } from "../rosette.js";
import { DEFERENCE, check, label, sources } from "../rules.js";
import { USUAL_RUN, USUAL_STOP, sawNote, sawSetting } from "../saw.js";
import { readSizeJob } from "../size_input.js";
import { overlaps, requiredOverlap, ruleLength, shorthandLength, weldLine } from "../sleeve.js";
import {
  angleCheck, blank, clearanceBlock, echoOf, holes, largestHole, materialNotes, overlapText, ranked, shareText,
  spliceSummary, tubeEcho, typedQuantity,
} from "./common.js";
import { LARGEST_BUTT_GAP, replacementChecks, replacementResult } from "./replacement.js";

export const size = (data) => result(readSizeJob(data));

export function result(job) {
  const numbers = numbersOf(job);
  const replaced = Boolean(job.opening || job.replacement);
  const checks = [
    overlapCheck(job, numbers), ...fitChecks(job.tube, job.sleeve, job.metric), gapCheck(job), endCheck(job), angle(job),
    ...(replaced ? replacementChecks(job, numbers.make) : []),
  ];
  return {
    method: "outer-sleeve",
    input: echo(job),
    length: numbers.length,
    overlap: numbers.overlap,
    weld_line: numbers.weldLine,
    clearance: numbers.clearance,
    rosette: rosettes(job, numbers.make),
    saw: saw(job),
    ...(replaced ? { replacement: replacementResult(job, numbers.make) } : {}),
    checks,
    assumptions: assumptions(job),
    sources: sources("outer-sleeve", "larger-tube", "dom", "rosette", "plug", "shorthand", "rosette-practice", "seam-practice"),
    warnings: ranked(checks, notes(job, numbers)),
    deference: DEFERENCE,
  };
}

// As given, else the blank; inches.
export const madeLength = (job) => (job.length ? Number(job.length) : blankLength(job));
export const blankLength = (job) => blank(ruleLength(job.D, job.Ds, job.g, job.cut) + 2 * Number(job.trim ?? 0), job.metric);

// The lengths of a sleeve that goes over a tube: rule, blank, bar use.
export function lengthBlock(job) {
  const { metric } = job;
  const [rule, cutTo] = [ruleLength(job.D, job.Ds, job.g, job.cut), blankLength(job)];
  return {
    rule: quantity(rule, rulerText(rule, metric, "up")),
    rule_surface: "tip to tip on the sleeve's outside",
    blank: quantity(cutTo, rulerText(cutTo, metric, "up")),
    bar_use: up(cutTo + Number(job.kerf ?? 0), metric),
    cut_depth: near(job.cut.depth(job.Ds / 2), metric),
    ...(job.length ? { given: typedQuantity(job.length) } : {}),
  };
}

export const overlapOn = (job, length) =>
  Object.fromEntries(overlaps(length, job.tube, job.sleeve, job.g, job.cut)
    .map(([name, value]) => [name, quantity(value, overlapText(value, requiredOverlap(job.D), job.metric))]));

export const overlapBlock = (job) => ({
  required: up(requiredOverlap(job.D), job.metric),
  judged_at: job.length ? job.length.typed : "rule length",
  ...overlapOn(job, job.length ? Number(job.length) : ruleLength(job.D, job.Ds, job.g, job.cut)),
});

function numbersOf(job) {
  const { metric } = job;
  const short = shorthandLength(job.D, job.cut);
  return {
    make: madeLength(job),
    length: {
      ...lengthBlock(job),
      shorthand: quantity(short, rulerText(short, metric, "near")),
      shorthand_overlap: overlapOn(job, short),
    },
    overlap: overlapBlock(job),
    weldLine: near(weldLine(job.D, job.cut), metric),
    clearance: clearanceBlock(clearance(job.tube, job.sleeve), metric),
  };
}

function rosettes(job, made) {
  const { metric } = job;
  const places = stations(made, job.Ds, job.g, job.cut);
  const sizes = holes(job.tube.od.inches, job.sleeve, metric);
  const largest = largestHole(sizes);
  const station = (inches) => quantity(inches, rulerText(inches, metric, "near", metric ? null : 1 / 32));
  return {
    sizes,
    per_end: places.length,
    stations: places.map((place) => ({
      angle_deg: place.angleDeg, from_tip: station(place.fromTip), from_middle: station(place.fromMiddle),
      edge_room: down(place.edgeRoom(largest), metric),
    })),
    drill: "Drill the sleeve only, never the tube.",
  };
}

const saw = ({ cut, metric }) => ({
  mitre_deg: cut.mitreDeg,
  to_axis_deg: 90 - cut.mitreDeg,
  cuts_per_end: { pointed: 2, fishmouth: 2, scarf: 1, square: 1 }[cut.end],
  note: sawNote(sawSetting(cut, USUAL_STOP, USUAL_RUN, metric), USUAL_STOP, false),
});

const echo = (job) => ({
  tube: tubeEcho(job.tube, job.metric), sleeve: tubeEcho(job.sleeve, job.metric), end: job.cut.end, mitre_deg: job.cut.mitreDeg,
  gap: job.gap.echo(), length: echoOf(job.length), units: job.metric ? "mm" : "in",
  ...(job.opening ? { opening: job.opening.echo() } : {}),
  ...(job.replacement ? { replacement: job.replacement.echo() } : {}),
});

function overlapCheck(job, numbers) {
  const [least, need] = [numbers.overlap.sleeve_outside.in, requiredOverlap(job.D)];
  const met = least >= need - 1e-9;
  const share = (name, places) => shareText(numbers.overlap[name].in / job.D, places);
  const text = met
    ? `The sleeve reaches 1.5 D or more past each stub end (${share("sleeve_outside", 3)} D on its outside).`
    : `Too short: ${share("sleeve_outside", 3)} D on the sleeve's outside, ${share("sleeve_inside", 3)} D on its inside, ` +
      `${share("weld_root", 4)} D on the weld-root line. Cut a new sleeve at ${numbers.length.rule.text} or longer.`;
  return check("overlap", label("outer-sleeve"), overlapText(least, need, job.metric),
    `at least ${fineText(need, job.metric, "up")} (1.5 D)`, met, text);
}

function gapCheck(job) {
  const met = job.g <= LARGEST_BUTT_GAP + 1e-12;
  return check("gap", label("outer-sleeve"), job.gap.typed, `at most ${job.metric ? "0.79 mm" : "1/32 in"} in total`, met, met
    ? "The replacement bears on the stubs."
    : "The gap is too wide. Fit a longer replacement piece, or square the stub ends and fit again.");
}

const END_TEXT = {
  fishmouth: "Fishmouth: the end the circular prefers. File the sharp crotch out round.",
  scarf: "A diagonal end. The circular prefers a fishmouth wherever it can be used.",
  pointed: "A pointed end is two diagonal cuts. The circular draws a diagonal and a fishmouth: ask the inspector if they take it.",
  square: "The circular asks for diagonal or fishmouth ends. A square end puts the whole weld on one line around the tube.",
};

const endCheck = ({ cut: { end } }) =>
  check("end", label("outer-sleeve"), end, "diagonal or fishmouth", end !== "square", END_TEXT[end]);

function angle(job) {
  const rule = label("split-sleeve");
  if (job.cut.end !== "square") return angleCheck(job.cut, rule);
  return check("end_angle", rule, "square", "30° to the axis", false, "The circular's figures draw the ends 30° to the axis.");
}

function assumptions(job) {
  const { sleeve } = job;
  return [
    "The sleeve sits with its middle over the middle of the cut.",
    "Lengths are tip to tip on the sleeve's outside, ends as flat saw cuts.",
    "Shop shorthand leaves out the gap.",
    ...toleranceNotes(job.tube, sleeve),
    ...(job.kerf ? [] : ["No saw kerf was given; bar use counts the blank only."]),
    ...(job.trim ? [] : ["No trim was given; the blank has none beyond the ruler's rounding."]),
    ...(sleeve.seam === "unknown" && ["dom", "seamless"].includes(sleeve.material.process)
      ? [`${sleeve.material.name} sleeve: taken as free of an inside bead. Look.`] : []),
  ];
}

function notes(job, { length }) {
  const short = length.rule.in - length.shorthand.in;
  return [
    ...(length.shorthand_overlap.sleeve_outside.in < requiredOverlap(job.D) - 1e-9
      ? [[2, `Shop shorthand is short here by ${fineText(short, job.metric, "up")}. Cut by the rule length.`]] : []),
    ...materialNotes({ Tube: job.tube, Sleeve: job.sleeve }),
    [3, "The circular uses an outer sleeve only where other methods do not suit. Write down why it was chosen."],
  ];
}

export function summary(data) {
  const job = readSizeJob(data);
  const hole = holes(job.tube.od.inches, job.sleeve, job.metric)[0].diameter.text;
  return spliceSummary("outer sleeve", "outer-sleeve", job.tube, job.sleeve, job.cut, lengthBlock(job), job.metric, {
    hole_diameter: hole, end_shape: job.cut.end, ...(job.opening || job.replacement ? { sleeves: 2 } : {}),
  });
}
