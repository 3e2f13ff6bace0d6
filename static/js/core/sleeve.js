// Mirrors core/sleeve.py: end profiles, rule length, overlap on each surface, weld line.

import { CoreProblem, told } from "./problems.js";
import { isNumber } from "./python.js";
import { sleeve } from "./tables.js";
import { oneOf } from "./tube.js";

export const { ENDS, OVERLAP_DIAMETERS, STEEPEST_MITRE } = sleeve;
// As Python: times pi/180, so that the last bit is the same.
export const radians = (degrees) => degrees * (Math.PI / 180);
export const degrees = (angle) => angle * (180 / Math.PI);

export class EndCut {
  constructor(end, mitreDeg = 60) {
    Object.assign(this, { end, mitreDeg });
    this.slope = end === "square" ? 0 : Math.tan(radians(mitreDeg));
  }

  profile(radius, angle) {
    const reach = radius * this.slope * Math.cos(angle);
    return { square: 0, scarf: reach, pointed: -Math.abs(reach), fishmouth: Math.abs(reach) }[this.end];
  }

  tipReach(radius) {
    return ["scarf", "fishmouth"].includes(this.end) ? radius * this.slope : 0;
  }

  valleyReach(radius) {
    return ["scarf", "pointed"].includes(this.end) ? radius * this.slope : 0;
  }

  depth(radius) {
    return this.tipReach(radius) + this.valleyReach(radius);
  }
}

export function readEndCut(end, mitreDeg) {
  const shape = told("end", () => oneOf("end shape", end, ENDS));
  if (shape === "square") return new EndCut(shape, 0);
  if (!isNumber(mitreDeg) || !(mitreDeg > 0 && mitreDeg <= STEEPEST_MITRE)) {
    throw new CoreProblem("bad-angle", "The mitre angle cannot be cut.", {
      given: mitreDeg ?? "nothing",
      allowed: `a number of degrees from a square cut, over 0 and up to ${STEEPEST_MITRE}.`,
      next: "Give the saw's angle from square; 60 is the circular's 30 degrees to the axis.", field: "mitre_deg",
    });
  }
  return new EndCut(shape, mitreDeg);
}

export const requiredOverlap = (D) => OVERLAP_DIAMETERS * D;
// L = 3 D + g + 2 (tip reach + valley reach), tip to tip on the sleeve's outside.
export const ruleLength = (D, Ds, gap, cut) => 2 * requiredOverlap(D) + gap + 2 * cut.depth(Ds / 2);
export const shorthandLength = (D, cut) => 2 * requiredOverlap(D) + 2 * cut.depth(D / 2);
export const overlap = (length, surfaceRadius, Ds, gap, cut) =>
  length / 2 - cut.tipReach(Ds / 2) - gap / 2 - cut.valleyReach(surfaceRadius);

// The overlap on the sleeve's outside, its inside and the weld-root line.
export const overlaps = (length, tube, sleeveTube, gap, cut) =>
  Object.entries({ sleeve_outside: sleeveTube.D / 2, sleeve_inside: sleeveTube.d / 2, weld_root: tube.D / 2 })
    .map(([name, radius]) => [name, overlap(length, radius, sleeveTube.D, gap, cut)]);

// S = 4 r sec m E(sin^2 m); a square end pi D.
export function weldLine(D, cut) {
  if (cut.end === "square") return Math.PI * D;
  const m = radians(cut.mitreDeg);
  return ((2 * D) / Math.cos(m)) * completeEllipticE(Math.sin(m) ** 2);
}

// Arithmetic-geometric mean; Abramowitz and Stegun 17.6.
export function completeEllipticE(parameter) {
  let [a, b, c] = [1, Math.sqrt(1 - parameter), Math.sqrt(parameter)];
  let [total, weight] = [parameter / 2, 0.5];
  while (c > 1e-9) {
    [a, b, c] = [(a + b) / 2, Math.sqrt(a * b), (a - b) / 2];
    weight *= 2;
    total += weight * c * c;
  }
  return (Math.PI / (2 * a)) * (1 - total);
}
