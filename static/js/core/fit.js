// Mirrors core/fit.py: clearance as drawn and at its worst, wall, material, seam.

import { Fraction } from "./fraction.js";
import { sameClass } from "./materials.js";
import { fixed, roundPlaces } from "./python.js";
import { decimalText, fineText } from "./quantity.js";
import { check, label, pick } from "./rules.js";
import { fit as T } from "./tables.js";
import { diameterTolerance, wallTolerance } from "./tolerances.js";
import { sizeText } from "./tube.js";

export const LARGEST_CLEARANCE = Fraction.of(T.LARGEST_CLEARANCE);
const LARGEST = Number(LARGEST_CLEARANCE);

export class Clearance {
  constructor(nominal, worstMin, worstMax, byWallMin, byWallMax) {
    Object.assign(this, { nominal, worstMin, worstMax, byWallMin, byWallMax });
  }

  get lowest() {
    return this.byWallMin === null ? this.worstMin : Math.min(this.worstMin, this.byWallMin);
  }

  get highest() {
    return this.byWallMax === null ? this.worstMax : Math.max(this.worstMax, this.byWallMax);
  }
}

// Sleeve ID - tube OD exactly, inches.
export const nominalClearance = (tube, sleeve) => sleeve.od.inches.sub(sleeve.wall.inches.mul(2)).sub(tube.od.inches);

export function clearance(tube, sleeve) {
  const nominal = Number(nominalClearance(tube, sleeve));
  const tubeOver = diameterTolerance(tube.D) ?? 0;
  const sleeveOver = diameterTolerance(sleeve.D) ?? 0;
  const wall = wallTolerance(sleeve.D, sleeve.t);
  return new Clearance(
    nominal, nominal - sleeveOver - tubeOver, nominal,
    wall === null ? null : nominal - 2 * wall.plus - tubeOver,
    wall === null ? null : nominal + sleeveOver + 2 * wall.minus,
  );
}

export function toleranceNotes(tube, sleeve) {
  const notes = ["Worst case uses the DOM tolerances of ASTM A513 type 5. A used or bent tube can be outside them: measure both."];
  for (const [what, part] of [["tube", tube], ["sleeve", sleeve]]) {
    if (part.material.process !== "dom") {
      notes.push(`The ${what} is ${part.material.name}; its own tolerance table is not at hand, so the DOM table stands in.`);
    }
    if (diameterTolerance(part.D) === null) notes.push(`The ${what} is past the tolerance table; no tolerance is counted for it.`);
  }
  const wall = wallTolerance(sleeve.D, sleeve.t);
  if (wall === null) notes.push("The sleeve's wall is past the wall tolerance table; only the diameter tolerance is counted.");
  else if (!wall.listed) notes.push("The sleeve's wall is between two rows of the wall table; the thicker row is used.");
  return notes;
}

export function fitChecks(tube, sleeve, metric = false) {
  const rule = label("outer-sleeve");
  return [
    clearanceCheck(tube, sleeve, rule, metric),
    worstCheck(clearance(tube, sleeve), metric, "on", "this tube and this sleeve"),
    wallCheck(tube, sleeve, rule),
    materialCheck(tube, sleeve, rule),
    seamCheck(sleeve),
  ];
}

function clearanceCheck(tube, sleeve, rule, metric) {
  const exact = nominalClearance(tube, sleeve);
  const met = exact.ge(0) && exact.le(LARGEST_CLEARANCE);
  const text = exact.lt(0)
    ? "The sleeve's bore is smaller than the tube. It will not go on. Choose a thinner wall or a larger sleeve."
    : !met
      ? "The sleeve is too loose on the tube. Choose a sleeve with a smaller bore."
      : exact.eq(0)
        ? "Bore and tube are the same size on paper. Measure both; it may not slide."
        : "The sleeve slides over the tube with room inside the limit. Measure both before cutting.";
  return check("clearance", rule, fineText(Number(exact), metric), `${limitText(metric)} on the diameter`, met, text);
}

export const limitText = (metric) => (metric ? "0 to 1.58 mm" : "0 to 1/16 in");

export function worstCheck(worst, metric, way, both) {
  const given = `${fineText(worst.lowest, metric, "down")} to ${fineText(worst.highest, metric, "up")}`;
  const [low, high] = [roundPlaces(worst.lowest, 6), roundPlaces(worst.highest, 6)];
  const [outcome, text] =
    high < 0 ? [false, `It cannot go ${way} at any tolerance. Choose another size.`]
    : low > LARGEST ? [false, "It is too loose at any tolerance. Choose another size."]
    : low < 0 ? [null, `At the tight end of the tolerances it will not go ${way}. Measure ${both} before you cut.`]
    : high > LARGEST ? [null, `At the loose end of the tolerances it is over the limit. Measure ${both} before you cut.`]
    : [true, "It fits at both ends of the tolerances."];
  return check("clearance_worst", label("dom"), given, `${limitText(metric)} at both ends`, outcome, text);
}

function wallCheck(tube, sleeve, rule) {
  const met = sleeve.wall.inches.ge(tube.wall.inches);
  const text = met ? "The sleeve's wall is at least the tube's." : wallStory(tube, sleeve);
  return check("wall", rule, sleeve.wall.typed, `at least ${tube.wall.typed}`, met, text);
}

// Both halves of a thin-walled sleeve: the rule it misses, and the section it has.
export function wallStory(tube, sleeve) {
  const more = sleeve.area > tube.area ? "more" : "less";
  const [own, old] = [sleeve.material.yield_ksi, tube.material.yield_ksi];
  const strength = own !== null && old !== null && own !== old
    ? `Minimum yield of the steel: sleeve ${decimalText(own, 1)} ksi, tube ${decimalText(old, 1)} ksi. ` : "";
  return (
    `Literal wall rule not met: the sleeve's wall is thinner than the tube's. Metal: the sleeve has ${more} area than the tube, ` +
    `${fixed(sleeve.area, 3)} in² (${sizeText(sleeve)}) against ${fixed(tube.area, 3)} in² (${sizeText(tube)}). ${strength}` +
    "Show this to the inspector and get their agreement before you cut."
  );
}

function materialCheck(tube, sleeve, rule) {
  const outcome = sameClass(tube.material, sleeve.material);
  return check("material", rule, `${sleeve.material.name} on ${tube.material.name}`, "the same material", outcome, pick(outcome,
    "Tube and sleeve are of the same class of steel.",
    "Tube and sleeve are of different steels. The circular asks for the same material. Choose another sleeve.",
    "The steel of one of them is not known. Find the certificate or the mark first."));
}

// A drawn or seamless tube nobody looked into counts as free of a bead.
export const seamOf = (part) =>
  part.seam === "unknown" && ["dom", "seamless"].includes(part.material.process) ? "none" : part.seam;

function seamCheck(sleeve) {
  const seam = seamOf(sleeve);
  const outcome = { none: true, removed: true, bead: false, unknown: null }[seam];
  const given = { none: "no bead", removed: "bead removed", bead: "bead inside", unknown: "not looked at" }[seam];
  return check("seam", label("seam-practice"), given, "no bead inside the sleeve", outcome, pick(outcome,
    "No weld bead inside the sleeve.",
    "The bead inside the sleeve takes the room the tube needs. Choose seamless or DOM, or have the bead taken out full length.",
    "Look and feel inside the sleeve for a weld bead. Then set the seam."));
}
