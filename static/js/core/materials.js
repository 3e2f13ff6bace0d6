// Mirrors core/materials.py: tube materials and their classes.

import { CoreProblem } from "./problems.js";
import { own } from "./python.js";
import { materials } from "./tables.js";

export const { MATERIALS } = materials;

export function material(key) {
  if (own(MATERIALS, key)) return MATERIALS[key];
  throw new CoreProblem("bad-material", "That material is not in the list.", {
    given: key, allowed: `${Object.keys(MATERIALS).join(", ")}.`,
    next: "Choose one of these; choose unknown if nobody can tell.",
  });
}

// Whether two materials share a class, null if either is not known.
export function sameClass(first, second) {
  const classes = [first.steel_class, second.steel_class];
  return classes.includes("unknown") ? null : classes[0] === classes[1];
}
