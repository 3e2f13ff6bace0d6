// Mirrors core/methods/replacement.py: the replaced section of an outer-sleeve splice.

import { down, fineText, near, up } from "../quantity.js";
import { check, label } from "../rules.js";
import { ruleLength } from "../sleeve.js";
import { assess, replacement as T } from "../tables.js";
import { number, typedQuantity } from "./common.js";

export const { LARGEST_BUTT_GAP } = T;

// Opening - 1/32 to opening, inches.
const replacementRange = (opening) => [Math.max(0, opening - LARGEST_BUTT_GAP), opening];
const leastReplacement = (sleeveLength) => sleeveLength + 2 * assess.WELD_ROOM;

export function replacementResult(job, made) {
  const { metric, opening, replacement } = job;
  const room = leastReplacement(made);
  let [least, most] = [null, null];
  if (opening) {
    [least, most] = replacementRange(Number(opening));
    // In a tight opening the two sleeves, not the gap, set the shortest piece.
    least = most >= room ? Math.max(least, room) : least;
    [least, most] = [up(least, metric), down(most, metric)];
  }
  const parts = {
    least, most,
    given: replacement ? typedQuantity(replacement) : null,
    total_gap: opening && replacement ? near(totalGap(job), metric) : null,
    sleeve_reach: near(made / 2, metric),
    between_sleeves: down(carrier(job) - made, metric),
    least_for_two: up(room, metric), least_opening: up(room, metric),
  };
  return { ...parts, numbers: numbersOf(parts, job), order: order(parts) };
}

const totalGap = (job) => Number(job.opening.inches.sub(job.replacement.inches));
export const replacementChecks = (job, made) => [bearingCheck(job), apartCheck(job, made), countedCheck(job, made)];
// What the two sleeves share: the piece as cut, else the longest that goes in.
const carrier = (job) => Number(job.replacement ?? job.opening);

function bearingCheck(job) {
  const rule = label("outer-sleeve");
  const limit = `0 to ${job.metric ? "0.79 mm" : "1/32 in"} in total`;
  if (!job.opening || !job.replacement) {
    const ask = job.opening ? "Cut the replacement, measure it and type its length." : "Measure from stub end to stub end.";
    return check("replacement_bearing", rule, "not measured", limit, null, ask);
  }
  const gap = totalGap(job);
  const [met, text] = gap < 0
    ? [false, "The replacement is longer than the opening. It will not go in. Trim it square."]
    : gap > LARGEST_BUTT_GAP + 1e-12
      ? [false, "The replacement is too short to bear on both stubs. Cut a longer one. Do not fill the gap."]
      : [true, "The replacement bears on both stubs."];
  return check("replacement_bearing", rule, fineText(gap, job.metric, gap < 0 ? "down" : "up"), limit, met, text);
}

function apartCheck(job, made) {
  const need = leastReplacement(made);
  const met = carrier(job) >= need - 1e-9;
  const needed = fineText(need, job.metric, "up");
  const text = met
    ? "Both sleeves fit on the replacement with room to weld."
    : `Two sleeves of this length do not fit. The replacement and the opening must be ${needed} or longer. ` +
      "Cut out more of the tube, use one longer sleeve over both joints, or use another method.";
  const given = job.replacement ? job.replacement.typed : `at most ${job.opening.typed}`;
  return check("sleeves_apart", T.WELD_ROOM_WORDS, given, `at least ${needed} (sleeve + room for two welds)`, met, text);
}

// Whether the sleeve keeps 1.5 D should the whole gap gather at one joint.
function countedCheck(job, made) {
  const known = Boolean(job.opening && job.replacement);
  const gap = known ? Math.min(Math.max(totalGap(job), 0), LARGEST_BUTT_GAP) : LARGEST_BUTT_GAP;
  const need = ruleLength(job.D, job.Ds, Math.max(job.g, gap), job.cut);
  const met = made >= need - 1e-9;
  const needed = fineText(need, job.metric, "up");
  const where = known ? "the measured gap" : "the widest gap allowed";
  const text = met
    ? `The sleeve keeps 1.5 D with ${where} all at one joint.`
    : `Short with ${where} all at one joint. Enter that gap as the gap, or cut the sleeves at ${needed} or longer.`;
  return check("gap_counted", label("outer-sleeve"), fineText(made, job.metric, met ? "near" : "down"), `at least ${needed}`, met, text);
}

const numbersOf = (parts, job) => [
  ...(parts.least ? [
    number("Opening, stub end to stub end", typedQuantity(job.opening)),
    number("Replacement, least", parts.least, "Total gap up to 1/32 in (0.79 mm), and room for both sleeves."),
    number("Replacement, most", parts.most, "No gap."),
  ] : []),
  ...(parts.given ? [number("Replacement as cut", parts.given)] : []),
  ...(parts.total_gap ? [number("Total gap, both joints", parts.total_gap)] : []),
  number("Each sleeve reaches over the replacement", parts.sleeve_reach, "To its tip, on the sleeve's outside."),
  number("Between the sleeve tips", parts.between_sleeves, "Needs 1/4 in (6.35 mm) for each weld; common practice, no source."),
  number("Least opening for two sleeves", parts.least_opening, "Shorter: one longer sleeve over both joints, or another method."),
];

const order = ({ least, most }) => [
  "Use the same tube as the damaged one: same material, same outside diameter, wall no thinner.",
  least ? `Cut the replacement square, ${least.text} to ${most.text}.` : "Measure the opening. Cut the replacement to it.",
  "Deburr it. Slide both sleeves clear of the joints.",
  "Set the replacement between the stubs. Measure both gaps. Add them.",
  "Slide each sleeve over its joint, its middle on the joint.",
  "Tack each sleeve in two places.",
  "Weld both ends of one sleeve. Let it cool. Then weld the other sleeve.",
];
