// Mirrors core/methods/patch_input.py: reads one patch job.

import { readAnswer, readFindings } from "../assess_input.js";
import { readLength } from "../lengths.js";
import { material } from "../materials.js";
import { CoreProblem, attempt, collect } from "../problems.js";
import { get, isDict, isText, truthy } from "../python.js";
import { Reader, openJob } from "../size_input.js";
import { patchInput as T, tube as tubeLimits } from "../tables.js";
import { inchesRange, oneOf, unknownMembers } from "../tube.js";

export function readPatchJob(data) {
  const reader = openJob(data, T.MEMBERS, `for example ${T.EXAMPLE}`, "Send tube, patch, damage, damage_length and around.");
  const { problems } = reader;
  const asked = get(data, "units");
  const unit = asked === "in" || asked === "mm" ? asked : "in";
  const found = readFound(data, problems);
  if (isText(get(data, "damage"))) reader.read("damage", (v) => oneOf("kind of damage for a patch", v, T.DAMAGE));
  for (const field of ["damage_length", "around"]) {
    if (!found || found.inches(field)) continue;
    const typed = get(data, field);
    problems.push(new CoreProblem("bad-length", "A patch cannot be sized without this length.", {
      given: truthy(typed) ? typed : "nothing", allowed: "a length over 0.", next: "Measure the damage and type it.", field,
    }));
  }
  const patch = reader.read("patch", (v) => readPatch(v, unit));
  const overJoint = reader.read("over_joint", readAnswer);
  const margin = reader.optional("margin", unit, T.WIDEST_MARGIN, false);
  collect(problems);
  const job = { found, ...patch, overJoint, margin, metric: found.metric };
  refuseWrap(job);
  return job;
}

function readFound(data, problems) {
  const fields = Object.fromEntries(Object.entries(data).filter(([name]) => T.FOUND.includes(name)));
  return attempt(() => readFindings(fields), (problem) => {
    problems.push(problem, ...problem.others);
    problem.others = [];
  });
}

function readPatch(value, unit) {
  if (!isDict(value)) {
    throw new CoreProblem("bad-patch", "A patch needs its wall and material.", {
      given: value, allowed: 'an object such as {"wall": ".134 in", "material": "dom-1020"}.', next: "Give wall and material.",
    });
  }
  const problems = [];
  unknownMembers(value, ["wall", "material"], problems);
  const reader = new Reader(value, problems);
  const wall = reader.read("wall", (v) => readWall(v, unit));
  const steel = reader.read("material", material);
  collect(problems);
  return { wall, material: steel };
}

function readWall(text, defaultUnit) {
  const wall = readLength(text, { role: "wall", defaultUnit });
  const { THINNEST_WALL, THICKEST_WALL } = tubeLimits;
  if (Number(wall) >= THINNEST_WALL && Number(wall) <= THICKEST_WALL) return wall;
  throw new CoreProblem("out-of-range", "That wall is outside what this handles.", {
    given: wall.typed, allowed: inchesRange(THINNEST_WALL, THICKEST_WALL), next: "Check the number and its unit.",
  });
}

// A margin must not close the patch on itself around the tube.
function refuseWrap({ found, margin }) {
  if (!margin || found.inches("around") + 2 * Number(margin) < Math.PI * found.D) return;
  throw new CoreProblem("out-of-range", "With that margin the patch runs all the way around the tube.", {
    given: margin.typed, allowed: "a patch narrower than the tube's circumference.",
    next: "Check the margin. To go all the way around, size a split sleeve.", field: "margin",
  });
}
