// Mirrors core/assess.py: which repair methods the circular leaves open, and why not the others.
// The shop's rule sheet lies on the laptop: with a member the answer says so in `not_checked`.

import { ovality, readFindings } from "./assess_input.js";
import { general } from "./python.js";
import { fineText } from "./quantity.js";
import { DEFERENCE, check, label, pick, sources, verdict } from "./rules.js";
import { EndCut, radians } from "./sleeve.js";
import { assess as T, assessInput } from "./tables.js";

const { LENGTHS, QUESTIONS } = assessInput;
export const SHEET_NOT_CHECKED = "The shop's rule sheet was not looked at: it is on the laptop.";

function yesNo(name, wanted, clauseKey, met, notMet) {
  const words = (answer) => pick(answer, "yes", "no", "not looked at");
  return (found) => {
    const answer = found.answers[name];
    const outcome = answer === null ? null : answer === wanted;
    return check(name, label(clauseKey), words(answer), words(wanted), outcome, pick(outcome, met, notMet, `Look first. ${QUESTIONS[name]}`));
  };
}

const typed = (found, name) => found.lengths[name]?.typed ?? "not measured";

function atMost(name, limit, words, notMet) {
  return (found, method) => {
    const [value, most] = [found.inches(name), limit(found)];
    const outcome = value === null ? null : value <= most + 1e-9;
    return check(name, method.clause, typed(found, name), `at most ${fineText(most, found.metric, "down")} (${words})`, outcome,
      pick(outcome, "Inside the limit.", notMet, `Measure first. ${LENGTHS[name]}`));
  };
}

function room(side, need, words) {
  const name = `room_${side}`;
  return (found, method) => {
    const [value, least] = [found.inches(name), need(found)];
    const outcome = value === null ? null : value >= least - 1e-9;
    return check(name, method.clause, typed(found, name), `at least ${fineText(least, found.metric, "up")} (${words})`, outcome,
      pick(outcome, "There is room on this side.", `No room on the ${side} for this method.`, `Measure first. ${LENGTHS[name]}`));
  };
}

function damageKind(found, method) {
  const met = method.damage.includes(found.damage);
  const kinds = or(method.damage);
  return check("damage", method.clause, found.damage, kinds, met, met
    ? "The method is for this kind of damage." : `The method is for ${kinds}, not for a ${found.damage}.`);
}

const or = (words) => (words.length > 1 ? `${words.slice(0, -1).join(", ")} or ${words.at(-1)}` : words[0]);

// 1.5 D, half the run of a 60 degree end on a sleeve 1/4 in larger, and room for the weld; inches.
export const spliceRoom = ({ D }) => 1.5 * D + new EndCut("pointed", 60).depth((D + T.USUAL_SLEEVE_STEP) / 2) + T.WELD_ROOM;
const innerRoom = ({ D }) => 1.5 * D + D * Math.tan(radians(60));

function stubRule(which, diameters, choose) {
  return (found, method) => {
    const [left, right] = [found.inches("room_left"), found.inches("room_right")];
    const least = diameters * found.D;
    const value = left === null || right === null ? null : choose(left, right);
    const outcome = value === null ? null : value >= least - 1e-9;
    return check(`${which}_stub`, method.clause, value === null ? "not measured" : fineText(value, found.metric, "down"),
      `at least ${fineText(least, found.metric, "up")} (${general(diameters)} D)`, outcome,
      pick(outcome, `The ${which} stub is long enough.`, `The ${which} stub is too short for this method.`, "Measure the room on both sides first."));
  };
}

const NOT_ON_OLD = yesNo("old_weld", false, "metal", "The weld lies on clean tube.", "Never weld over an old weld. Move the cut.");
const rooms = (need, words) => ["left", "right"].map((side) => room(side, need, words));
const CUT_END = rooms(spliceRoom, "1.5 D, the cut end and the weld");

const RULES = {
  "inner-sleeve": [
    damageKind, NOT_ON_OLD,
    yesNo("inside_bead", false, "seam-practice", "The bore is clear.", "The bead inside blocks an inner sleeve."),
    ...rooms(innerRoom, "1.5 D and the diagonal cut"),
  ],
  "larger-tube": [
    damageKind, NOT_ON_OLD,
    yesNo("near_cluster", false, "larger-tube", "The cut is clear of a cluster.", "Too near a cluster of joints for this method."),
    yesNo("needs_same_od", false, "larger-tube", "Nothing here needs the old diameter.", "A bracket needs the old diameter. Use another method."),
    stubRule("short", 2.5, Math.min), stubRule("long", 4.5, Math.max),
    ...CUT_END,
  ],
  "split-sleeve": [damageKind, NOT_ON_OLD, ...CUT_END],
  patch: [
    damageKind,
    atMost("damage_length", (f) => f.D, "D", "Too long for a patch."),
    atMost("around", (f) => (Math.PI * f.D) / 4, "1/4 of the way around", "Too far around the tube for a patch."),
    yesNo("middle_third", false, "patch-place", "The patch stays out of the middle third.", "No patch in the middle third of the tube."),
  ],
  "outer-sleeve": [damageKind, NOT_ON_OLD, ...rooms(spliceRoom, "half the sleeve and the weld")],
};
const DENT_RULES = [
  atMost("depth", (f) => f.D / 10, "D/10", "Too deep for a patch."),
  yesNo("sharp_corners", false, "patch", "The dent is smooth.", "A dent with a crack, scrape or sharp corner takes no patch."),
  yesNo("can_reform", true, "patch", "The dent can be re-formed.", "A dent that cannot be re-formed takes no patch."),
];
const STOPS = [
  yesNo("heat_treated", false, "heat-treated", "Not a heat-treated member.",
    "Heat-treated member: do not splice. Replace it, or have it re-treated by those who can."),
  yesNo("brazed", false, "metal", "No brazing under the weld.", "Never weld over brazing. Replace the member or move the cut."),
  yesNo("crack_into_joint", false, "secondary", "No crack runs into a joint.",
    "A crack runs into a joint: a splice does not mend the joint. Replace the member or rebuild the joint."),
];

export function assess(data) {
  const found = readFindings(data);
  const stops = STOPS.map((rule) => rule(found));
  const methods = T.METHODS.map((method) => judged(found, method, stops));
  methods.push(replace(stops, methods));
  return {
    tube: { od: found.tube.od.echo(), wall: found.tube.wall.echo(), material: found.tube.material.name },
    stops,
    methods,
    measure_next: questions(found, stops, methods),
    look: [...T.LOOK_ELSEWHERE],
    notes: notes(found),
    sources: sources("heat-treated", "metal", "secondary", "split-sleeve", "bolted", "patch", "patch-place", "inner-sleeve", "outer-sleeve", "larger-tube"),
    deference: DEFERENCE,
    ...(found.member ? { not_checked: [SHEET_NOT_CHECKED] } : {}),
  };
}

function judged(found, method, stops) {
  const rules = [...RULES[method.key], ...(method.key === "patch" && found.damage === "dent" ? DENT_RULES : [])];
  const checks = rules.map((rule) => rule(found, method));
  const { key, name, about, clause } = method;
  return { key, name, about, clause, standing: standing([...stops, ...checks]), checks };
}

function standing(checks) {
  const has = (word) => checks.some((one) => one.verdict === word);
  return has("not met") ? "closed" : has("unknown") ? "measure first" : "open";
}

// The last resort, always open: replace the whole member.
function replace(stops, methods) {
  const forced = stops.some((one) => one.verdict === verdict(false)) || methods.every((m) => m.standing === "closed");
  const clause = label("heat-treated");
  return {
    key: "replace", name: "Replace the member", about: "Cut the whole tube out at its joints and fit a new one.", clause, standing: "open",
    checks: [check("always", clause, "this member", "any member", true,
      forced ? "Nothing else is left for this tube." : "Always possible. More work, and no splice to explain later.")],
  };
}

// Each unknown once, stops first, with the methods that wait for it.
function questions(found, stops, methods) {
  const asked = new Map();
  const words = { ...QUESTIONS, ...LENGTHS };
  const rows = [
    ...stops.map((one) => [one, "all"]),
    ...methods.filter((m) => m.standing !== "closed").flatMap((m) => m.checks.map((one) => [one, m.name])),
  ];
  for (const [one, waiting] of rows) {
    if (one.verdict !== "unknown") continue;
    const fields = one.id.endsWith("_stub") ? ["room_left", "room_right"].filter((name) => found.lengths[name] === null) : [one.id];
    for (const field of fields) {
      if (!asked.has(field)) asked.set(field, { field, question: words[field], for: [] });
      const entry = asked.get(field);
      if (!entry.for.includes(waiting)) entry.for.push(waiting);
    }
  }
  return [...asked.values()];
}

function notes(found) {
  const varies = ovality(found);
  return [
    varies === null
      ? "Measure the outside diameter at least twice, a quarter turn apart."
      : `Outside diameter varies by ${fineText(varies, found.metric, "up")} around the tube. The sleeve must go over the largest reading.`,
    ...(found.knownBy === "assumption" ? ["The material is an assumption. Find the certificate or the mark before you weld."] : []),
    "Bolted sleeves are not for welded tube without specific authorisation (AC 43.13-1B 4-93).",
    "Filling a dent or crack with rod is not a repair (AC 43.13-1B 4-92).",
    `Room is worked out with a sleeve ${fineText(T.USUAL_SLEEVE_STEP, found.metric)} larger than the tube, 60° mitre; the real sleeve is checked when sized.`,
  ];
}
