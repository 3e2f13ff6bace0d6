// Mirrors core/methods/patch.py: a welded patch over a small dent or hole.

import { assess } from "../assess.js";
import { frac } from "../fraction.js";
import { GAUGE_INCHES, gaugeFor, gaugeText, nextThicker } from "../lengths.js";
import { sameClass } from "../materials.js";
import { fixed, least as smallest, own } from "../python.js";
import { down, fineText, near, quantity, rulerText, up } from "../quantity.js";
import { DEFERENCE, check, label, pick, sources } from "../rules.js";
import { degrees } from "../sleeve.js";
import { patchInput } from "../tables.js";
import { plainSize } from "../tube.js";
import { byRank, number, typedQuantity } from "./common.js";
import { readPatchJob } from "./patch_input.js";

export const MARGIN_TEXT = "How far the patch reaches past the damage comes from the circular's figure 4-36 or from the inspector.";
// A wall typed as a rounded millimetre sits a hair off its gauge.
const GAUGE_SLACK = frac(3, 1000);

// The same angle at the middle of the patch's wall, radius (D + t) / 2.
const flatWidth = (arc, D, wall) => arc * (1 + wall / D);

export const size = (data) => result(readPatchJob(data), data);

export function result(job, data) {
  const { found, metric } = job;
  const outline = outlineOf(job);
  const checks = allChecks(job, data);
  const parts = {
    limits: {
      length: down(found.D, metric), around: down((Math.PI * found.D) / 4, metric),
      ...(found.damage === "dent" ? { depth: down(found.D / 10, metric) } : {}),
    },
    wall: { tube: typedQuantity(found.tube.wall), patch: typedQuantity(job.wall), next_gauge: gaugeQuantity(job) },
    outline,
    ...(outline.patch ? { length: { blank: outline.patch.length } } : {}),
  };
  return {
    method: "patch",
    input: echo(job),
    ...parts,
    numbers: numbersOf(job, parts),
    order: order(job, outline),
    checks,
    assumptions: assumptions(job),
    sources: sources("patch", "patch-place"),
    warnings: warnings(job, checks),
    deference: DEFERENCE,
  };
}

function outlineOf(job) {
  const [length, around] = [job.found.inches("damage_length"), job.found.inches("around")];
  const margin = job.margin ? Number(job.margin) : null;
  const patch = margin === null ? null : extent(job, length + 2 * margin, around + 2 * margin, true);
  return {
    least: extent(job, length, around, false),
    margin: margin === null ? null : typedQuantity(job.margin),
    patch, note: patch ? "Ruler sizes are rounded up." : MARGIN_TEXT,
  };
}

function extent(job, length, around, byRuler) {
  const { found: { D }, metric } = job;
  const ruler = (inches) => (byRuler ? quantity(inches, rulerText(inches, metric, "up")) : up(inches, metric));
  return {
    length: ruler(length), around: ruler(around), around_surface: "along the tube's outside",
    flat_width: ruler(flatWidth(around, D, Number(job.wall))), flat_surface: "at the middle of the patch's wall",
    angle_deg: degrees((2 * around) / D),
  };
}

// The wall one gauge over the tube's, null past 7 gauge; within .003 in of a gauge counts as that gauge.
export function gaugeWanted(tubeWall) {
  const off = (gauge) => gauge.sub(tubeWall).abs();
  const nearest = smallest([...GAUGE_INCHES.values()], (gauge) => [off(gauge)]);
  return nextThicker(Number(off(nearest).le(GAUGE_SLACK) ? nearest : tubeWall));
}

function gaugeQuantity(job) {
  const first = gaugeWanted(job.found.tube.wall.inches);
  return first ? quantity(first, gaugeText(first)) : null;
}

function allChecks(job, data) {
  // The limits of the damage are the assessment's own: one place decides them.
  const wanted = ["tube", "damage", "depth", "damage_length", "around", "units", ...patchInput.ASKED];
  const fields = Object.fromEntries(wanted.filter((name) => own(data, name)).map((name) => [name, data[name]]));
  const entry = assess(fields).methods.find((method) => method.key === "patch");
  return [...entry.checks, jointCheck(job), ...stockRules(job.found.tube, job.wall, job.material), marginCheck(job)];
}

function jointCheck({ overJoint }) {
  const outcome = overJoint === null ? null : !overJoint;
  return check("over_joint", label("patch-place"), pick(overJoint, "yes", "no", "not looked at"), "no", outcome, pick(outcome,
    "The patch stays clear of joints.", "No patch over a joint. Use another method.", "Look first. Would the patch cover a joint?"));
}

// The checks of what a patch is cut from: wall and material.
export const stockRules = (tube, wall, steel) => [wallCheck(tube, wall), materialCheck(tube, steel)];

function wallCheck(tube, wall) {
  const rule = label("patch");
  const first = gaugeWanted(tube.wall.inches);
  if (!first) {
    return check("wall", rule, wall.typed, "one gauge thicker than the tube", null,
      "The gauge table ends at 7 gauge (.180 in). Ask the inspector which wall to use.");
  }
  const wanted = gaugeText(first);
  const second = nextThicker(Number(first));
  const [outcome, text] = wall.inches.lt(first.sub(GAUGE_SLACK))
    ? [false, `Too thin. The circular asks for one gauge thicker than the tube: ${wanted}.`]
    : second && wall.inches.ge(second.sub(GAUGE_SLACK))
      ? [null, "More than one gauge thicker. The circular says one gauge. Ask the inspector."]
      : [true, "One gauge thicker than the tube."];
  return check("wall", rule, wall.typed, `one gauge thicker than the tube: ${wanted}`, outcome, text);
}

function materialCheck(tube, steel) {
  const outcome = sameClass(tube.material, steel);
  return check("material", label("patch"), `${steel.name} on ${tube.material.name}`, "the same material", outcome, pick(outcome,
    "Tube and patch are of the same class of steel.",
    "Tube and patch are of different steels. The circular asks for the same material. Choose another patch.",
    "The steel of one of them is not known. Find the certificate or the mark first."));
}

const marginCheck = ({ margin }) =>
  check("margin", "AC 43.13-1B figure 4-36 (not at hand)", margin ? margin.typed : "not given", "as the figure draws it", null,
    margin ? `The margin is yours; nothing here can judge it. ${MARGIN_TEXT}` : MARGIN_TEXT);

function numbersOf({ found }, { limits, outline: { patch, least }, wall }) {
  return [
    number("Wall of the patch", wall.next_gauge ?? "ask the inspector", "One gauge thicker than the tube. Tubing gauge; sheet gauge differs."),
    ...(patch ? [
      number("Cut the patch, along the tube", patch.length, "Damage and the margin on both sides."),
      number("Cut the patch, from flat sheet", patch.flat_width, "Width before it is formed, at the middle of its wall."),
      number("Patch once formed, around the tube", patch.around, "Along the tube's outside."),
      number("Patch, part of the way around", `${fixed(patch.angle_deg, 0)}°`),
    ] : [
      number("Least outline, along the tube", least.length, "The damage alone. The patch must be longer."),
      number("Least outline, around the tube", least.around, "The damage alone, along the tube's outside. The patch must be wider."),
      number("Least outline, as flat sheet", least.flat_width, "The damage alone, at the middle of the patch's wall."),
      number("Reach past the damage", "unknown", MARGIN_TEXT),
    ]),
    number("Damage along the tube, most", limits.length, "D."),
    number("Damage around the tube, most", limits.around, "1/4 of the way around."),
    ...(found.damage === "dent" ? [number("Depth of the dent, most", limits.depth, "D/10.")] : []),
  ];
}

const order = ({ found }, outline) => [
  ...(found.damage === "dent"
    ? ["Look for cracks, scrapes and sharp corners. Found one: stop, no patch.", "Work the dent back to shape. It cracks: stop, no patch."]
    : ["Look for cracks at the edge of the hole. Found one: stop and ask the inspector."]),
  outline.patch
    ? `Cut the patch: ${blankText(outline)}.`
    : "Get the patch's reach past the damage: figure 4-36 or the inspector. Then cut the patch.",
  "Form the patch until it lies on the tube all round. Round its corners.",
  "Clean tube and patch to bright metal.",
  "Tack the patch at its corners.",
  "Weld half of the edge. Let it cool. Weld the rest.",
];

const blankText = ({ patch }) => `${patch.length.text} long, ${patch.flat_width.text} wide flat`;

const assumptions = ({ found }) => [
  "Damage around the tube is measured along its outside.",
  "Flat width holds at the middle of the patch's wall; a patch cut from tube of a near size needs less forming. Common practice, no source.",
  "Corners, tacks and welding in two halves: common practice, no source.",
  MARGIN_TEXT,
  ...(gaugeFor(found.tube.wall.inches) === null
    ? ["The tube's wall is not a gauge of the table. Within .003 in it counts as that gauge; else the next gauge over it is used."] : []),
  ...(found.damage === "hole" && found.lengths.depth
    ? ["A depth was given for a hole; it is not judged. A hole in a dent is a dent as well: look at both."] : []),
];

const warnings = (job, checks) => byRank([
  ...checks.filter((one) => one.verdict === "not met")
    .map((one) => [1, `${one.text} Patch rule not met: ${one.given}; ${one.limit}.`]),
  ...checks.filter((one) => one.verdict === "unknown").map((one) => [one.id === "margin" ? 2 : 3, one.text]),
  ...[[job.found.tube.material, "Tube"], [job.material, "Patch"]]
    .filter(([steel]) => steel.note).map(([steel, what]) => [3, `${what}: ${steel.note}`]),
]);

function echo(job) {
  const { found: { damage, lengths, tube }, material, wall } = job;
  const said = ["depth", "damage_length", "around"].filter((name) => lengths[name]).map((name) => [name, lengths[name].echo()]);
  return {
    tube: {
      od: tube.od.echo(), wall: tube.wall.echo(), inside: near(tube.d, job.metric),
      material: tube.material.key, material_name: tube.material.name, seam: tube.seam,
    },
    patch: { wall: wall.echo(), material: material.key, material_name: material.name },
    damage, ...Object.fromEntries(said), margin: job.margin ? job.margin.echo() : null, units: job.metric ? "mm" : "in",
  };
}

export function summary(data) {
  const job = readPatchJob(data);
  const { found: { tube }, material, metric } = job;
  const outline = outlineOf(job);
  const wall = fineText(Number(job.wall), metric);
  const [steel, first] = [tube.material.steel_class, gaugeWanted(tube.wall.inches)];
  return {
    tag: {
      tube: plainSize(tube), sleeve: `patch ${wall} ${material.name}`, material: material.name, end: "patch", mitre_deg: "none",
      length: outline.patch ? outline.patch.length.text : "not set", method: "patch", clause: label("patch"),
    },
    context: {
      tube: plainSize(tube), sleeve: `${wall} ${material.name}`, material: material.name, od: tube.D, wall: tube.t, metric,
      ...(outline.patch ? { blank_length: blankText(outline) } : {}),
      ...(first ? { patch_wall: Number(first) } : {}),
      ...(steel === "unknown" ? {} : { material_class: steel }),
    },
  };
}
