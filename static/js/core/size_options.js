// Mirrors core/size_options.py: what may stand beside the members of any method.

import { readMeasured } from "./fit_measured.js";
import { readLength } from "./lengths.js";
import { CoreProblem, collect } from "./problems.js";
import { general, get, isDict, isNumber } from "./python.js";
import { Reader } from "./size_input.js";
import { STEEPEST_MITRE } from "./sleeve.js";
import { rosetteSearch, saw, sizeOptions as T } from "./tables.js";
import { oneOf, unknownMembers } from "./tube.js";

export const { NAMES } = T;

export function readOptions(method, data) {
  const problems = [];
  const reader = new Reader(data, problems);
  const asked = get(data, "units");
  const unit = ["in", "mm"].includes(asked) ? asked : "in";
  refuseOthers(method, data, problems);
  const option = (name, read) => reader.read(name, (value) => (value === null ? null : read(value)));
  const hole = option("hole", (value) => oneOf("hole size", value, T.HOLES));
  const sawStop = option("saw_limit", readStop);
  const count = option("count", (value) => whole(value, T.MOST_SLEEVES, "sleeves"));
  const blockDistance = reader.optional("block_distance", unit, T.LONGEST_BLOCK, false);
  const rosettes = option("rosettes", (value) => readRosettes(value, unit));
  const measured = option("measured", (value) => readReadings(value, unit, method));
  collect(problems);
  return { measured, rosettes, sawStop: sawStop ?? saw.USUAL_STOP, sawGiven: sawStop !== null, blockDistance, hole, count };
}

const WHY = {
  patch: "A patch has no such part.",
  "split-sleeve": "A split sleeve is held by its seams and ends. It has no rosette holes here.",
};
const FOR = { measured: T.SAWN, saw_limit: T.SAWN, block_distance: T.SAWN, count: T.SAWN, rosettes: T.PLUGGED, hole: T.PLUGGED };

// An answer must not look as if it had been counted.
function refuseOthers(method, data, problems) {
  for (const [name, methods] of Object.entries(FOR)) {
    if (get(data, name) === null || methods.includes(method)) continue;
    problems.push(new CoreProblem("bad-choice", WHY[method], {
      given: name, allowed: `${name} with ${methods.join(", ")}.`, next: "Leave it out, or choose another method.", field: name,
    }));
  }
}

function readStop(value) {
  if (isNumber(value) && value >= 0 && value <= STEEPEST_MITRE) return value;
  throw new CoreProblem("bad-angle", "That is not where a saw's swing stops.", {
    given: value, allowed: `a number of degrees from a square cut, 0 to ${general(STEEPEST_MITRE)}.`,
    next: "Read the last mark on the saw's scale; most stop at 45 or 60.",
  });
}

function whole(value, most, what) {
  if (Number.isInteger(value) && value >= 1 && value <= most) return value;
  throw new CoreProblem("out-of-range", `That number of ${what} is not handled.`, {
    given: value, allowed: `a whole number, 1 to ${most}.`, next: "Check the number.",
  });
}

function objectProblems(value, members, what) {
  if (!isDict(value)) {
    throw new CoreProblem("bad-body", `The ${what} must be one object.`, {
      given: value, allowed: `an object with ${[...members].sort().join(", ")}.`, next: `Leave the ${what} out, or send an object.`,
    });
  }
  const problems = [];
  unknownMembers(value, members, problems);
  return problems;
}

function readRosettes(value, unit) {
  const problems = objectProblems(value, ["per_tip", "diameter", "distance"], "rosettes");
  const reader = new Reader(value, problems);
  const perTip = reader.read("per_tip", (v) => (v === null ? 1 : whole(v, rosetteSearch.MOST_HOLES, "holes on a tip line")));
  const diameter = reader.read("diameter", (v) => (v === null ? null : readHole(v, unit)));
  const distance = reader.optional("distance", unit, T.LONGEST_DISTANCE, false);
  collect(problems);
  return { perTip, diameter, distance };
}

function readHole(text, unit) {
  const hole = readLength(text, { role: "diameter", defaultUnit: unit });
  if (Number(hole) >= 1 / 16 && Number(hole) <= T.WIDEST_HOLE) return hole;
  throw new CoreProblem("out-of-range", "That is no size for a rosette hole.", {
    given: hole.typed, allowed: `1/16 in to ${general(T.WIDEST_HOLE)} in.`, next: "Check the number and its unit.",
  });
}

// An inner sleeve's readings are read as if the sleeve were the tube: the tube has the bore.
function readReadings(value, unit, method) {
  const swapped = method === "inner-sleeve";
  collect(objectProblems(value, swapped ? Object.keys(T.SWAPPED) : T.READINGS, "readings"));
  if (!T.SAWN.includes(method)) return null;
  const renamed = swapped ? Object.fromEntries(Object.entries(value).map(([name, one]) => [T.SWAPPED[name], one])) : value;
  try {
    return readMeasured({ ...renamed, units: unit });
  } catch (problem) {
    if (swapped && problem instanceof CoreProblem) {
      const back = Object.fromEntries(Object.entries(T.SWAPPED).map(([here, there]) => [there, here]));
      for (const one of [problem, ...problem.others]) {
        one.field = back[one.field] ?? one.field;
        for (const part of ["title", "allowed", "next"]) one[part] = swapWords(one[part]);
      }
    }
    throw problem;
  }
}

// A text with tube and sleeve in each other's place.
export function swapWords(text) {
  const other = { tube: "sleeve", sleeve: "tube", Tube: "Sleeve", Sleeve: "Tube" };
  return text.replace(/tube|sleeve|Tube|Sleeve/g, (word) => other[word]);
}
