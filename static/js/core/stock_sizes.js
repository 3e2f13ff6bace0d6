// Mirrors core/stock_sizes.py: usual tube sizes, what could be bought where the rack has nothing.

import { Fraction, frac } from "./fraction.js";
import { Length } from "./lengths.js";
import { MATERIALS } from "./materials.js";
import { inchFractionText } from "./quantity.js";
import { stockSizes as T, tube as limits } from "./tables.js";
import { Tube } from "./tube.js";

const [SMALLEST, LARGEST] = [frac(1), frac(5, 2)];
const SMALLEST_OD = Fraction.of(limits.SMALLEST_OD);

// Up to 5/8 in over the tube, in the tube's class of steel.
export const usualSizes = (tube) =>
  sizes(eighths(tube.od.inches, T.STEPS_OVER).filter((od) => listed(od) && od.gt(tube.od.inches)), walls(tube, true), tube);

// By 1/8 in around the tube's bore.
export const sizesAtBore = (tube) =>
  sizes(eighths(tube.od.inches.sub(tube.wall.inches.mul(2)), T.STEPS_AT_BORE).filter((od) => od.ge(SMALLEST_OD) && od.lt(tube.od.inches)),
    walls(tube), tube);

// Of one wall, the bore within about 1/4 in of the tube's outside.
export const sizesForPatch = (tube, wall) =>
  sizes(eighths(tube.od.inches.add(wall.mul(2)), T.STEPS_AT_PATCH).filter(listed),
    walls(tube, true).filter((one) => frac(one, 1000).eq(wall)), tube);

const listed = (od) => od.ge(SMALLEST) && od.le(LARGEST);

function walls(tube, more = false) {
  if (tube.material.steel_class === "4130") return T.CHROMOLY_WALLS;
  return more ? [...T.DOM_WALLS, ...T.MORE_WALLS] : T.DOM_WALLS;
}

function eighths(size, steps) {
  const base = size.mul(8).floor();
  return steps.map((step) => frac(base + BigInt(step), 8));
}

function sizes(ods, thousandths, tube) {
  const steel = MATERIALS[tube.material.steel_class === "4130" ? tube.material.key : "dom-1020"];
  const wall = (one) => new Length(frac(one, 1000), `.${String(one).padStart(3, "0")} in`, "in");
  return ods.flatMap((od) => thousandths.filter((one) => frac(2 * one, 1000).lt(od))
    .map((one) => new Tube(new Length(od, inchFractionText(od), "in"), wall(one), steel)));
}
