// Mirrors core/hole_plan.py: which rosette holes a splice gets, and where.

import { drillText } from "./drill.js";
import { Fraction } from "./fraction.js";
import { CoreProblem } from "./problems.js";
import { quantity, rulerText, up } from "./quantity.js";
import { holeSizes, stations } from "./rosette.js";
import { place } from "./rosette_search.js";
import { PRACTICE, check } from "./rules.js";
import { holePlan as T } from "./tables.js";

export const { MEASURED_FROM } = T;
export const [FROM_TIP, FROM_TUBE_TIP, FROM_CUT] = ["from_tip", "from_tube_tip", "from_cut"];

// The holes of a splice: hole, origin, places [[angle, inches]] of one end, the placement where holes were asked for.
export function holePlan(parts, options) {
  if (parts.method === "split-sleeve") return null;
  const { cut, outer } = parts;
  const asked = options.rosettes;
  const own = asked?.diameter?.inches;
  const hole = own ? { key: "own", diameter: own, source: "as typed", text: "The diameter that was typed." }
    : holeSizes(parts.inner.od.inches, outer.od.inches, outer.wall.inches).find((size) => size.key === (options.hole ?? "circular"));
  if (!asked) return { hole, ...usual(parts), placement: null };
  let [length, gap, origin] = [parts.made, parts.gap, FROM_TIP];
  if (parts.method === "inner-sleeve") {
    // A sleeve that does not pass its cut has no place; the search then sees no length at all.
    length = parts.reach > 0 ? parts.made - parts.gap + cut.depth(outer.D / 2) : 1e-9;
    [gap, origin] = [0, FROM_TUBE_TIP];
  }
  const distance = asked.distance ? Number(asked.distance) : null;
  const half = hole.diameter.div(2);
  if (distance !== null && Fraction.of(distance).le(half)) {
    throw new CoreProblem("out-of-range", "At that distance the hole runs over the edge.", {
      given: asked.distance.typed, allowed: `over half the hole's diameter, ${drillText(half, parts.metric)}, to the hole's centre.`,
      next: "Give the distance from the hole's centre to the edge.", field: "rosettes.distance",
    });
  }
  const placement = place(asked.perTip, Number(hole.diameter), length, outer.D, outer.t, gap, cut, distance);
  return { hole, origin, places: placement.holes.map((one) => [one.angleDeg, one.fromTip]), placement };
}

function usual(parts) {
  if (parts.method === "inner-sleeve") {
    return { origin: FROM_CUT, places: parts.reach > 0 ? [[0, parts.reach / 2], [180, parts.reach / 2]] : [] };
  }
  const places = stations(parts.made, parts.outer.D, parts.gap, parts.cut);
  return { origin: FROM_TIP, places: places.map((one) => [one.angleDeg, one.fromTip]) };
}

const wordsOf = (text, parts) => (parts.method === "inner-sleeve" ? text.replaceAll("stub end", "sleeve end") : text);

// The search as JSON: places, margins, a plain verdict.
export function searchBlock(parts, plan) {
  const { metric } = parts;
  const found = plan.placement.asDict(metric);
  return {
    ...found,
    stations: found.stations.map(({ from_middle: middle, ...row }, i) => ({
      ...row, ...(parts.method === "inner-sleeve" ? {} : { from_middle: middle }), mark: mark(plan.places[i][1], metric),
    })),
    diameter: quantity(plan.hole.diameter, drillText(plan.hole.diameter, metric)),
    measured_from: MEASURED_FROM[plan.origin],
    text: found.text.map((line) => wordsOf(line, parts)),
    verdict: rosetteCheck(parts, plan).verdict,
  };
}

export function rosetteCheck(parts, { placement: found }) {
  const { metric } = parts;
  const apart = found.asked > 1 ? `, ${up(found.leastSpacing, metric).text} from hole to hole` : "";
  const limit = `${up(found.leastDistance, metric).text} from centre to edge and stub end${apart}`;
  return check("rosettes", PRACTICE, `room for ${found.fits} of ${found.asked} on each tip line`, wordsOf(limit, parts),
    found.fits === found.asked, wordsOf(found.text(metric).join(" "), parts));
}

// As marked off with a ruler: to the nearest 1/32 in or 1 mm.
export const mark = (inches, metric) => quantity(inches, rulerText(inches, metric, "near", metric ? null : 1 / 32));
