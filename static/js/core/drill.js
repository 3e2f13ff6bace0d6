// Mirrors core/drill.py: drill steps for a hole in tube, each with its tool, size and speed.

import { Fraction } from "./fraction.js";
import { fineText, inchFractionText, quantity, roundTo } from "./quantity.js";
import { drill as T } from "./tables.js";

const [SMALL, LARGE, CHANGE, CENTRE_BODY, NO_40] =
  [T.PILOT_SMALL, T.PILOT_LARGE, T.PILOT_CHANGE, T.CENTRE_BODY, T.NO_40].map((text) => Fraction.of(text));
const COUNTERSINK_SHARE = 1 / 3;

// n = 12 SFM / (pi d)
const rpm = (surfaceFeet, diameter) => (12 * surfaceFeet) / (Math.PI * diameter);
// The slower steel's where it is not known.
export const surfaceSpeeds = (material) => T.SURFACE_SPEEDS[material.steel_class] ?? T.SURFACE_SPEEDS["4130"];

function pilotFor(diameter) {
  const pilot = diameter.le(CHANGE) ? SMALL : LARGE;
  return pilot.lt(diameter) ? pilot : null;
}

// One step with a turning cutter: what to do, its size, its speeds.
function cutter(step, size, text, material, metric, share = 1) {
  const [low, high] = surfaceSpeeds(material).map((speed) => roundTo(share * rpm(speed, Number(size)), 10, "down"));
  return { step, text, diameter: quantity(size, drillText(size, metric)), rpm_low: low, rpm_high: high, rpm: `${low} to ${high} rpm` };
}

export const stopSteps = (material, metric) => [
  { step: "mark", text: "Find both ends of the crack. Centre punch each one." },
  cutter("final", NO_40, "Drill No. 40 through one wall at each punch mark.", material, metric),
  { step: "deburr", text: "Take the burr off outside. Look again for crack past the holes." },
];

export function holeSteps(diameter, material, metric, words = null) {
  const [pilot, said] = [pilotFor(diameter), { ...T.WORDS, ...words }];
  const turn = (step, size, text, share) => cutter(step, size, text, material, metric, share);
  return [
    { step: "mark", text: said.mark },
    { step: "clamp", text: said.clamp },
    turn("centre drill", diameter.lt(CENTRE_BODY) ? diameter : CENTRE_BODY, "Centre drill on the mark. Keep the cone smaller than the hole."),
    ...(pilot ? [turn("pilot", pilot,
      `Pilot ${drillText(pilot, metric)} through one wall. Without it the last drill wanders and leaves a three-lobed hole.`)] : []),
    turn("final", diameter, `Drill ${drillText(diameter, metric)} through one wall. Ease off as it breaks through.`),
    turn("countersink", diameter, "Countersink the outside lightly.", COUNTERSINK_SHARE),
    { step: "deburr", text: "Deburr the inside. A burr there stops the sleeve from sliding." },
    { step: "slide", text: `Wipe out the chips. ${said.slide}` },
  ];
}

// As stamped: a 1/64 fraction of an inch, or millimetres to a hundredth.
export const drillText = (diameter, metric) => (!metric && inchFractionText(diameter)) || fineText(Number(diameter), metric);
