// Mirrors core/saw.py: saw setting for a mitred end, the stand-off block past the saw's stop, the order of cuts.

import { general } from "./python.js";
import { quantity, roundTo, rulerText } from "./quantity.js";
import { degrees, radians } from "./sleeve.js";
import { saw as T } from "./tables.js";

export const { USUAL_STOP, USUAL_RUN } = T;
export const USUAL_RUN_METRIC = 300 / 25.4;
const ROUNDING = 1e-9;

// rise = run tan(angle)
const standOff = (angleDeg, run) => run * Math.tan(radians(angleDeg));

export function sawSetting(cut, stopDeg, run, metric = false) {
  const mitre = cut.end === "square" ? 0 : cut.mitreDeg;
  const madeUp = mitre - stopDeg;
  const setting = { mitre_deg: mitre, to_axis_deg: 90 - mitre, saw_deg: Math.min(mitre, stopDeg), block: null };
  const step = metric ? 1 / 25.4 : 1 / 32;
  // A rise that no ruler shows needs no block.
  if (madeUp <= ROUNDING || (madeUp < 1 && roundTo(standOff(madeUp, run), step, "near") === 0)) {
    const scale = mitre === 0 ? "square" : `${general(Math.min(mitre, stopDeg))}° from square`;
    return { ...setting, setting: scale, note: "on the saw's own scale",
      lines: [`Set the saw to ${scale}.`, "Cut a scrap piece first. Check it with a protractor."] };
  }
  if (madeUp > T.STEEPEST_BLOCK + ROUNDING) {
    return { ...setting, setting: "wrap template", note: `${general(madeUp)}° past the saw's stop is too much for a block`, lines: [T.WRAP] };
  }
  const rise = standOff(madeUp, run);
  const [text, distance] = [rise, run].map((value) => rulerText(value, metric, "near", metric ? null : step));
  const made = stopDeg + degrees(Math.atan(roundTo(rise, step, "near") / run));
  return {
    ...setting,
    setting: `${general(stopDeg)}° and a ${general(madeUp)}° block`,
    note: `the saw stops at ${general(stopDeg)}°`,
    block: { angle_deg: madeUp, run: quantity(run, distance), rise: quantity(rise, text), mitre_made_deg: made },
    lines: [
      `Set the saw to ${general(stopDeg)}° from square, its stop.`,
      `Stand the tube ${text} off the fence, ${distance} along the fence from where it touches.`,
      "Stand it off the way that makes the cut longer.",
      "Clamp tube and block. The tube must not roll or creep.",
      `Cut a scrap piece first. Check ${general(90 - mitre)}° to the axis with a protractor.`,
      `No room for a block? ${T.WRAP}`,
    ],
  };
}

// One sentence for a saw that stops short of the mitre, "" for one that reaches it.
export function sawNote(setting, stopDeg, given) {
  const wrapped = setting.lines.length === 1 && setting.lines[0] === T.WRAP;
  if (setting.saw_deg === setting.mitre_deg || !(setting.block || wrapped)) return "";
  const short = general(setting.mitre_deg - stopDeg);
  const need = setting.block ? `needs a stand-off block for the last ${short}°.` : `is ${short}° short. ${T.WRAP}`;
  return `A saw that stops at ${general(stopDeg)}° ${need}${given ? "" : " Give your saw's largest angle."}`;
}

export const cutOrder = (cut) => T.CUT_ORDER[cut.end];
export const sleeveBatch = (cut, blank) => T.BATCH[cut.end].map((line) => line.replace("{blank}", () => blank));
