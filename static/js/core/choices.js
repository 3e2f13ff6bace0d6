// Mirrors core/choices.py: the words a form can offer.

import { GAUGE_INCHES } from "./lengths.js";
import { MATERIALS } from "./materials.js";
import { ENDS, STEEPEST_MITRE } from "./sleeve.js";
import { assessInput, choices as T, tube } from "./tables.js";

export const choices = () => ({
  materials: Object.values(MATERIALS).map(({ key, name, steel_class, process, note }) => ({ key, name, class: steel_class, process, note })),
  ends: Object.keys(T.END_TEXT).filter((end) => ENDS.includes(end)).map((end) => ({ key: end, text: T.END_TEXT[end] })),
  steepest_mitre: STEEPEST_MITRE,
  seams: tube.SEAMS.map((seam) => ({ key: seam, text: T.SEAM_TEXT[seam] })),
  gauges: [...GAUGE_INCHES].map(([gauge, inches]) => ({ gauge, in: Number(inches) })),
  damage: [...assessInput.DAMAGE_KINDS],
  answers: [...assessInput.ANSWERS],
  known_by: [...assessInput.KNOWN_BY],
  questions: { ...assessInput.QUESTIONS },
  lengths: { ...assessInput.LENGTHS },
});
