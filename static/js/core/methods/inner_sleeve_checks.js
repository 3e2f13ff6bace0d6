// Mirrors core/methods/inner_sleeve_checks.py: the rules of an inner sleeve, one at a time.

import { LARGEST_CLEARANCE, limitText, seamOf, wallStory, worstCheck } from "../fit.js";
import { frac } from "../fraction.js";
import { sameClass } from "../materials.js";
import { fineText } from "../quantity.js";
import { check, label, pick } from "../rules.js";
import { requiredOverlap } from "../sleeve.js";
import { angleCheck, overlapText, shareText } from "./common.js";

const RULE = label("inner-sleeve");
const [RULE_GAP, GAP_LEEWAY] = [frac(1, 8), frac(1, 32)];

export const allChecks = (job, reach, fit, spareFit) => [
  overlapCheck(job, reach), ...fitRules(job, fit), gapCheck(job), angleCheck(job.cut, RULE), ...(spareFit ? replacementChecks(job) : []),
];

// The checks of the tube alone, before it is cut.
export const fitRules = (job, fit) => [
  clearanceCheck(job), worstCheck(fit, job.metric, "in", "both tubes"), beadCheck(job), wallCheck(job), materialCheck(job),
];

function overlapCheck(job, reach) {
  const need = requiredOverlap(job.tube.D);
  const met = reach >= need - 1e-9;
  const share = shareText(reach / job.tube.D, 3);
  const text = met
    ? `Each sleeve end reaches ${share} D past the nearest end of its cut.`
    : `Too short: ${share} D past the nearest end of the cut. Cut a new sleeve at the rule length or longer.`;
  return check("overlap", RULE, overlapText(reach, need, job.metric), `at least ${fineText(need, job.metric, "up")} (1.5 D)`, met, text);
}

const room = (job, outer) => outer.od.inches.sub(outer.wall.inches.mul(2)).sub(job.sleeve.od.inches);

function clearanceCheck(job) {
  const exact = room(job, job.tube);
  const met = exact.ge(0) && exact.le(LARGEST_CLEARANCE);
  const text = exact.lt(0)
    ? "The sleeve is larger than the tube's bore. It will not go in. See the ways listed under options."
    : !met
      ? "The sleeve is too loose in the tube. Choose a larger sleeve, or see the ways listed under options."
      : exact.eq(0)
        ? "Bore and sleeve are the same size on paper. Measure both; it may not slide."
        : "The sleeve slides in with room inside the limit. Measure both before cutting.";
  return check("clearance", RULE, fineText(Number(exact), job.metric), `${limitText(job.metric)} on the diameter`, met, text);
}

function beadCheck(job) {
  const rule = label("seam-practice");
  if (job.bead) {
    const [first, second] = [job.tube, job.replacement].map((part) => room(job, part));
    const free = (second.lt(first) ? second : first).sub(job.bead.inches);
    const met = free.ge(0);
    return check("bead", rule, `${fineText(Number(free), job.metric)} free past a bead of ${job.bead.typed}`, "0 or more free past the bead", met,
      met ? "The sleeve passes the bead on paper. It lies to one side of the bore. Try it before you cut."
        : "The bead stops the sleeve. Take the bead out full length, use a smaller sleeve inside the limit, or another method.");
  }
  const seams = [job.tube, job.replacement].map(seamOf);
  const seam = ["bead", "unknown", "removed"].find((word) => seams.includes(word)) ?? "none";
  const outcome = { none: true, removed: true, bead: false, unknown: null }[seam];
  const given = { none: "no bead", removed: "bead removed", bead: "bead inside, height not given", unknown: "not looked at" }[seam];
  return check("bead", rule, given, "no bead in the sleeve's way", outcome, pick(outcome,
    "No weld bead inside the tube.",
    "The bead inside the tube takes the room the sleeve needs. Measure its height and enter it, have it taken out full length, or use another method.",
    "Feel inside the tube for a weld bead. Then set the seam."));
}

function wallCheck(job) {
  const met = job.sleeve.wall.inches.ge(job.tube.wall.inches);
  const text = met ? "The sleeve's wall is at least the tube's." : wallStory(job.tube, job.sleeve);
  return check("wall", RULE, job.sleeve.wall.typed + (job.turned ? " after turning" : ""), `at least ${job.tube.wall.typed}`, met, text);
}

function materialCheck(job) {
  const outcome = sameClass(job.tube.material, job.sleeve.material);
  return check("material", RULE, `${job.sleeve.material.name} in ${job.tube.material.name}`, "the same material", outcome, pick(outcome,
    "Tube and sleeve are of the same class of steel.",
    "Tube and sleeve are of different steels. The circular asks for the same material. Choose another sleeve.",
    "The steel of one of them is not known. Find the certificate or the mark first."));
}

function gapCheck(job) {
  const met = job.gap.inches.sub(RULE_GAP).abs().le(GAP_LEEWAY);
  const text = met
    ? "The weld goes through the gap into the sleeve."
    : job.gap.inches.lt(RULE_GAP)
      ? "The gap is too tight for the weld to reach the sleeve. File the replacement shorter."
      : "The gap is too wide. Fit a longer replacement piece.";
  const limit = job.metric ? "3.18 mm, 0.79 mm each way" : "1/8 in, 1/32 in each way";
  return check("gap", RULE, `${job.gap.typed} along the axis`, `${limit} (leeway: common practice, no source)`, met, text);
}

function replacementChecks(job) {
  const { replacement: spare, tube } = job;
  const alike = spare.od.inches.eq(tube.od.inches) && spare.wall.inches.ge(tube.wall.inches);
  const steel = sameClass(tube.material, spare.material);
  const outcome = !alike || steel === false ? false : steel;
  const free = room(job, spare);
  const fits = free.ge(0) && free.le(LARGEST_CLEARANCE);
  return [
    check("replacement", RULE, spare.name(), `${tube.od.typed}, wall at least ${tube.wall.typed}, the same material`, outcome, pick(outcome,
      "The replacement has the tube's steel and diameter, and at least its wall.",
      "The replacement must have the tube's steel and diameter, and at least its wall. Choose another piece.",
      "The steel of tube or replacement is not known. Find the certificate or the mark first.")),
    check("clearance_replacement", RULE, fineText(Number(free), job.metric), `${limitText(job.metric)} on the diameter`, fits,
      fits ? "The sleeve slides into the replacement." : "The sleeve does not fit the replacement's bore. Choose a replacement with another wall."),
  ];
}
