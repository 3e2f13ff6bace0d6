// Mirrors core/tube.py: a round tube, its outside diameter, wall, material, seam.

import { readLength } from "./lengths.js";
import { material } from "./materials.js";
import { CoreProblem, attempt, collect } from "./problems.js";
import { fixed, general, get, isDict, isText, slice } from "./python.js";
import { decimalText } from "./quantity.js";
import { tube as T } from "./tables.js";

export class Tube {
  constructor(od, wall, steel, seam = "unknown") {
    Object.assign(this, { od, wall, material: steel, seam });
    this.D = Number(od);
    this.t = Number(wall);
    this.d = Number(od.inches.sub(wall.inches.mul(2)));
    this.area = Math.PI * (this.D - this.t) * this.t;
  }

  name() {
    return `${sizeText(this)} ${this.material.name}`;
  }
}

export const sizeText = (tube) => `${tube.od.typed} × ${tube.wall.typed}`;

// A tube for a tag, in decimals.
export function plainSize(tube) {
  const { od, wall } = tube;
  if (od.isMetric) return `${decimalText(od.mm, 2)} x ${decimalText(wall.mm, 2)} mm ${tube.material.name}`;
  return `${decimalText(od.inches, 4)} x ${fixed(Number(wall), 3).replace(/^0+/, "")} ${tube.material.name}`;
}

export function readTube(data, { defaultUnit = "in" } = {}) {
  if (!isDict(data)) {
    throw new CoreProblem("bad-tube", "A tube needs its outside diameter, wall and material.", {
      given: data, allowed: 'an object such as {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}.',
      next: "Give od, wall and material.",
    });
  }
  const problems = [];
  unknownMembers(data, ["od", "wall", "material", "seam"], problems);
  const part = (name, read) => attempt(() => read(get(data, name)), (problem) => problems.push(problem.at(name)));
  const od = part("od", (v) => readLength(v, { role: "diameter", defaultUnit }));
  const wall = part("wall", (v) => readLength(v, { role: "wall", defaultUnit }));
  const steel = part("material", material);
  const seam = part("seam", (v) => oneOf("seam", v ?? "unknown", T.SEAMS));
  if (od) within(od, T.SMALLEST_OD, T.LARGEST_OD, "od", "outside diameter", problems);
  if (wall) within(wall, T.THINNEST_WALL, T.THICKEST_WALL, "wall", "wall", problems);
  if (od && wall && !problems.length && wall.inches.mul(2).ge(od.inches)) {
    problems.push(new CoreProblem("bad-tube", "The wall leaves no hole in the tube.", {
      given: wall.typed, allowed: `a wall under half of the outside diameter, ${od.echo()}.`,
      next: "Measure the wall again, away from the seam.", field: "wall",
    }));
  }
  collect(problems);
  return new Tube(od, wall, steel, seam);
}

export function oneOf(what, value, allowed) {
  if (isText(value) && allowed.includes(value)) return value;
  throw new CoreProblem("bad-choice", `That ${what} is not known here.`, {
    given: value, allowed: `${allowed.join(", ")}.`, next: "Choose one of these words.",
  });
}

// A problem for each member that is not known: a typo is never ignored.
export function unknownMembers(data, known, problems) {
  for (const name of Object.keys(data)) {
    if (known.includes(name)) continue;
    problems.push(new CoreProblem("unknown-member", "That member is not known here.", {
      given: name, allowed: `${[...known].sort().join(", ")}.`, next: "Check the spelling or leave it out.",
      field: slice(name, 0, 40),
    }));
  }
}

// The ranges' words, also for a wall that is read alone.
export const inchesRange = (low, high) =>
  `${general(low)} in to ${general(high)} in (${general(low * 25.4, 4)} mm to ${general(high * 25.4, 4)} mm).`;

function within(value, low, high, field, what, problems) {
  if (Number(value) >= low && Number(value) <= high) return;
  problems.push(new CoreProblem("out-of-range", `That ${what} is outside what this handles.`, {
    given: value.typed, allowed: inchesRange(low, high), next: "Check the number and its unit.", field,
  }));
}
