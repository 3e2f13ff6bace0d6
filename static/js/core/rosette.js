// Mirrors core/rosette.py: hole sizes by source, and the place on the tip line farthest from every edge.

import { frac } from "./fraction.js";
import { hypot } from "./python.js";
import { radians } from "./sleeve.js";
import { rosette } from "./tables.js";

const { CELLS, PARTS } = rosette;
const HALF = frac(1, 2);

// The nearest multiple of `step`, halves upward.
const toNearest = (value, step) => step.mul(value.div(step).add(HALF).floor());

// t + 5/16 in, rounded up to the next odd 1/16.
function plugMinimum(drilledWall) {
  const sixteenths = drilledWall.add(frac(5, 16)).mul(16).ceil();
  return frac(sixteenths % 2n ? sixteenths : sixteenths + 1n, 16);
}

export function holeSizes(tubeOd, drilledOd, drilledWall) {
  const step = frac(1, 32);
  const quarter = toNearest(drilledOd.div(4), step);
  const shop = toNearest(tubeOd.div(4), step);
  const least = plugMinimum(drilledWall);
  const under = shop.lt(least) ? ` It is under the structural minimum of ${least} in.` : "";
  return [
    { key: "circular", diameter: quarter, source: "AC 43.13-1B 4-85 (from memory)",
      text: "About a quarter of the drilled tube's diameter, to the nearest 1/32 in." },
    { key: "shop", diameter: shop, source: "common practice, no source",
      text: `A quarter of the inner tube's diameter, to the nearest 1/32 in.${under}` },
    { key: "structural", diameter: least, source: "AISC 360 J2.3b (from memory)",
      text: "Wall + 5/16 in, up to the next odd 1/16 in: the least that structural rules count as a plug weld." },
  ];
}

export const tipAngles = (cut) => ({ pointed: [90, 270], fishmouth: [0, 180], scarf: [0], square: [0, 180] })[cut.end];

// From a point to the sleeve's edge over the developed outside, inches.
export function edgeDistance(x, angle, length, Ds, cut) {
  const radius = Ds / 2;
  const reference = length / 2 - cut.tipReach(radius) - x;
  if (cut.end === "square") return Math.abs(reference);
  const step = (2 * Math.PI) / CELLS;
  const sag = (radius * cut.slope * step * step) / 8;
  const first = Math.floor(angle / step);
  let bound = Math.abs(reference + cut.profile(radius, angle));
  const cells = [];
  for (let k = 0; k <= CELLS / 2 && radius * (k - 1) * step <= bound + sag; k += 1) {
    for (const cell of new Set([first + k, first - k])) {
      const chord = chordDistance(reference, angle, radius, cut, cell * step, step);
      cells.push([chord, cell * step]);
      bound = Math.min(bound, chord);
    }
  }
  const close = cells.filter(([chord]) => chord <= bound + 2 * sag);
  return Math.min(...close.map(([, a]) => withinCell(reference, angle, radius, cut, a, step)));
}

function chordDistance(reference, angle, radius, cut, a, step) {
  const [x0, y0] = [reference + cut.profile(radius, a), radius * (a - angle)];
  const [dx, dy] = [reference + cut.profile(radius, a + step) - x0, radius * step];
  const along = Math.min(1, Math.max(0, -(x0 * dx + y0 * dy) / (dx * dx + dy * dy)));
  return hypot(x0 + along * dx, y0 + along * dy);
}

// Between two angles the edge is one smooth cosine.
function withinCell(reference, angle, radius, cut, a, step) {
  const centre = a + step / 2;
  const height = cut.profile(radius, centre) / Math.cos(centre);
  const slope = (at) => -(reference + height * Math.cos(at)) * height * Math.sin(at) + radius * radius * (at - angle);
  // Straight over a rounded tip the distance is at a crest, with a valley on each side in the same cell.
  const marks = Array.from({ length: PARTS + 1 }, (_, part) => a + (step * part) / PARTS);
  const places = [...marks];
  for (let part = 0; part < PARTS; part += 1) {
    let [low, high] = [marks[part], marks[part + 1]];
    if (!(slope(low) < 0 && slope(high) > 0)) continue;
    for (let i = 0; i < 20; i += 1) {
      const middle = (low + high) / 2;
      if (slope(middle) < 0) low = middle;
      else high = middle;
    }
    places.push((low + high) / 2);
  }
  return Math.min(...places.map((at) => hypot(reference + height * Math.cos(at), radius * (at - angle))));
}

// Where a rising function passes zero, to 1e-9: false position with the stale end halved.
export function crossing(rising, low, high) {
  let [below, above] = [rising(low), rising(high)];
  if (below >= 0 || above <= 0) return below >= 0 ? low : high;
  let side = 0;
  while (high - low > 1e-9) {
    const x = (low * above - high * below) / (above - below);
    const value = rising(x);
    if (Math.abs(value) < 1e-10) return x;
    if (value < 0) {
      [low, below] = [x, value];
      [above, side] = [side < 0 ? above / 2 : above, -1];
    } else {
      [high, above] = [x, value];
      [below, side] = [side > 0 ? below / 2 : below, 1];
    }
  }
  return (low + high) / 2;
}

// One hole for each tip line of one end; none where the sleeve does not reach past the stub end.
export function stations(length, Ds, gap, cut) {
  const tip = length / 2;
  if (tip - gap / 2 <= 0) return [];
  const angles = tipAngles(cut);
  const angle = radians(angles[0]);
  const x = crossing((at) => at - gap / 2 - edgeDistance(at, angle, length, Ds, cut), gap / 2, tip);
  const toEdge = edgeDistance(x, angle, length, Ds, cut);
  const toStubEnd = x - gap / 2;
  return angles.map((angleDeg) => ({
    fromTip: tip - x, fromMiddle: x, angleDeg, toStubEnd, toEdge,
    edgeRoom: (diameter) => Math.min(toStubEnd, toEdge) - diameter / 2,
  }));
}
