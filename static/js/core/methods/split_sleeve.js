// Mirrors core/methods/split_sleeve.py: two half sleeves over a straightened dent, crack or bend.

import { fitChecks, nominalClearance, toleranceNotes } from "../fit.js";
import { general } from "../python.js";
import { down, fineText, near, quantity, up } from "../quantity.js";
import { DEFERENCE, PRACTICE, check, label, sources } from "../rules.js";
import { requiredOverlap, weldLine } from "../sleeve.js";
import { splitSleeve as T } from "../tables.js";
import { echoOf, materialNotes, number, overlapText, ranked, shareText, spliceSummary, tubeEcho, typedQuantity } from "./common.js";
import { lengthBlock, madeLength, overlapBlock } from "./outer_sleeve.js";
import { readSplitJob } from "./split_sleeve_input.js";

const RULE = label("split-sleeve");
// Two slits take 2 k out of the circumference.
const closedBore = (bore, kerf) => bore - (2 * kerf) / Math.PI;
export const seamGap = (tubeOd, bore, kerf) => Math.max(0, kerf - (Math.PI * (bore - tubeOd)) / 2);

// Least and most length of both long seams together, on the sleeve's outside.
function seamLengths(length, Ds, cut) {
  const shorter = Math.max(0, 2 * length - 2 * Ds * cut.slope);
  return [shorter, cut.end === "scarf" ? shorter : 2 * length];
}

export const size = (data) => result(readSplitJob(data));

export function result(job) {
  const { sized } = job;
  const parts = { length: lengthBlock(sized), overlap: overlapBlock(sized), slit: slit(sized), weld: welds(sized) };
  const checks = allChecks(job, parts);
  return {
    method: "split-sleeve",
    input: echo(job),
    ...parts,
    numbers: numbersOf(job, parts),
    order: order(job, parts),
    checks,
    assumptions: assumptions(job),
    sources: sources("split-sleeve", "larger-tube", "dom", "seam-practice"),
    warnings: ranked(checks, notes(job)),
    deference: DEFERENCE,
  };
}

function slit(job) {
  if (!job.kerf) return { kerf: null, bore_lost: null, closed_bore: null, seam_gap: null, least_bore: null };
  const { metric } = job;
  const kerf = Number(job.kerf);
  const lost = (2 * kerf) / Math.PI;
  return {
    kerf: typedQuantity(job.kerf),
    bore_lost: up(lost, metric),
    closed_bore: down(closedBore(job.sleeve.d, kerf), metric),
    seam_gap: up(seamGap(job.D, job.sleeve.d, kerf), metric),
    least_bore: up(job.D + lost, metric),
  };
}

function welds(job) {
  const { metric } = job;
  const [least, most] = seamLengths(madeLength(job), job.Ds, job.cut);
  const end = weldLine(job.D, job.cut);
  return {
    seams_least: near(least, metric), seams_most: near(most, metric), seams_surface: "on the sleeve's outside",
    each_end: near(end, metric), each_end_surface: "on the tube's outside", total_most: up(most + 2 * end, metric),
  };
}

function allChecks(job, parts) {
  const { sized } = job;
  return [
    damageCheck(job), overlapCheck(sized, parts), endCheck(sized), angleCheck(sized),
    ...fitRules(sized.tube, sized.sleeve, sized.metric), slitCheck(sized, parts),
  ];
}

// The checks of the sleeve alone, before it is slit.
export function fitRules(tube, sleeve, metric) {
  // 4-92 asks for the same wall and material itself; its "approximately equal" bore has no figure.
  const clauses = { wall: RULE, material: RULE, clearance: label("larger-tube") };
  return fitChecks(tube, sleeve, metric).map((one) => ({ ...one, clause: clauses[one.id] ?? one.clause }));
}

function damageCheck({ damage }) {
  const met = T.DAMAGE.includes(damage);
  return check("damage", RULE, damage, "dent, crack or bend", met, met
    ? "The method is for this kind of damage."
    : `The method is for a dent, crack or bend, not for a ${damage}. Choose another method.`);
}

function overlapCheck(job, parts) {
  const [least, need] = [parts.overlap.sleeve_outside.in, requiredOverlap(job.D)];
  const met = least >= need - 1e-9;
  const share = shareText(least / job.D, 3);
  const text = met
    ? `The sleeve reaches 1.5 D or more past each end of the damage (${share} D on its outside).`
    : `Too short: ${share} D on the sleeve's outside. Cut a new sleeve at ${parts.length.rule.text} or longer.`;
  return check("overlap", RULE, overlapText(least, need, job.metric), `at least ${fineText(need, job.metric, "up")} (1.5 D)`, met, text);
}

function endCheck({ cut: { end } }) {
  const met = end === "scarf" || null;
  return check("end", RULE, end, "diagonal (scarf)", met, met
    ? "A diagonal end, as the circular words it."
    : `The circular words a diagonal cut here, not a ${end}. Ask the inspector about this end.`);
}

function angleCheck({ cut }) {
  const angle = 90 - cut.mitreDeg;
  const met = Math.abs(angle - 30) < 1e-9;
  return check("end_angle", RULE, `${general(angle)}° to the axis`, "30° to the axis", met, met
    ? "The angle the circular asks for."
    : "The circular asks for 30° to the axis: set the saw at 60° from square.");
}

function slitCheck(job, { slit: cut }) {
  const limit = "halves meet edge to edge on the tube";
  if (!job.kerf) return check("slit", PRACTICE, "kerf not given", limit, null, "Measure the width of the saw cut and give it.");
  const closes = Number(nominalClearance(job.tube, job.sleeve)) * Math.PI >= 2 * Number(job.kerf) - 1e-12;
  if (closes) return check("slit", PRACTICE, "no gap", limit, true, "The halves meet at both seams on the tube.");
  return check("slit", PRACTICE, `gap ${cut.seam_gap.text} at each seam`, limit, null,
    `The two slits take ${cut.bore_lost.text} off the bore if the halves are closed up: they would be too small for the tube. ` +
    `Weld across a gap of about ${cut.seam_gap.text} at each seam, or slit stock with a bore of ${cut.least_bore.text} or more, ` +
    "inside the clearance limit once closed. Ask the qualified welder about the gap.");
}

function numbersOf({ sized, damage }, { length, overlap, slit: cut, weld }) {
  const scarf = sized.cut.end === "scarf";
  return [
    number("Damage, along the tube", typedQuantity(sized.gap), "Measure it after straightening, to the ends of the stop holes."),
    number("Reach past each end of the damage, least", overlap.required, "1.5 D, to the nearest sleeve metal."),
    number("Rule length", length.rule, "Tip to tip on the sleeve's outside."),
    number("Cut the blank at", length.blank, "Tip to tip, rounded up to the ruler."),
    number("Depth of each cut end", length.cut_depth, "Tip to valley, on the sleeve's outside."),
    ...(damage === "crack"
      ? [number("Stop hole at each crack end", quantity(T.STOP_DRILL, "No. 40 (0.098 in, 2.49 mm)"), "AC 43.13-1B 4-92.")] : []),
    ...(cut.kerf ? [
      number("Bore lost if the slits are closed", cut.bore_lost, "2 slits, 2 k / π on the diameter."),
      number("Gap at each seam, halves clamped on the tube", cut.seam_gap, "0 means the halves meet."),
      number("Bore for halves that meet, least", cut.least_bore, "Before slitting."),
    ] : []),
    number("Both long seams together", scarf ? weld.seams_most : `${weld.seams_least.text} to ${weld.seams_most.text}`,
      scarf ? "On the sleeve's outside." : "On the sleeve's outside; slits in the valleys to slits through the tips."),
    number("Weld at each end", weld.each_end, "On the tube's outside."),
    number("All weld, most", weld.total_most, "Both seams and both ends."),
  ];
}

const order = ({ sized, damage }, { length, overlap }) => [
  "Straighten the tube carefully. Look for new cracks.",
  ...(damage === "crack" ? ["Drill a No. 40 hole (0.098 in) at each end of the crack."] : []),
  "Do not fill the dent or crack with rod.",
  `Cut the sleeve at ${(length.given ?? length.blank).text}. Saw both ends ${general(90 - sized.cut.mitreDeg)}° to the axis.`,
  "Slit the sleeve full length on two opposite lines. Mark the halves.",
  "Clamp both halves over the damage. Turn the seams clear of the crack.",
  `Measure the reach past the damage on both sides: ${overlap.required.text} or more.`,
  "Weld both long seams.",
  "Weld one end all round. Let it cool. Weld the other end.",
];

const assumptions = ({ sized }) => [
  "The sleeve sits with its middle over the middle of the damage.",
  "Lengths are tip to tip on the sleeve's outside, ends as flat saw cuts.",
  "The circular asks for a bore about the tube's outside diameter and gives no figure here; the 1/16 in of 4-97 is used.",
  "Cool between the ends and seams clear of the crack: common practice, no source.",
  ...toleranceNotes(sized.tube, sized.sleeve),
  sized.kerf
    ? "The kerf is taken the same for the slits and for cutting the bar."
    : "No kerf was given; the fit of the halves is not worked out, bar use counts the blank only.",
];

const notes = ({ sized, damage }) => [
  [1, "Filling a dent or crack with rod instead of a sleeve is not acceptable to the circular."],
  ...(damage === "crack"
    ? [[1, "Find both ends of the crack and stop-drill them first. A crack that runs into a joint is another repair."]] : []),
  ...materialNotes({ Tube: sized.tube, Sleeve: sized.sleeve }),
];

function echo({ sized, damage }) {
  const tube = (part) => {
    const { area_in2: _, ...said } = tubeEcho(part, sized.metric);
    return said;
  };
  return {
    tube: tube(sized.tube), sleeve: tube(sized.sleeve), damage, damage_length: sized.gap.echo(),
    end: sized.cut.end, mitre_deg: sized.cut.mitreDeg, length: echoOf(sized.length), kerf: echoOf(sized.kerf),
    units: sized.metric ? "mm" : "in",
  };
}

export function summary(data) {
  const { sized } = readSplitJob(data);
  return spliceSummary("split sleeve", "split-sleeve", sized.tube, sized.sleeve, sized.cut, lengthBlock(sized), sized.metric,
    { end_shape: sized.cut.end });
}
