// Mirrors core/quantity.py: the one place where a length is rounded for reading, and which way.

import { Fraction, divide, frac } from "./fraction.js";
import { fixed, round } from "./python.js";
import { MM_PER_INCH } from "./units.js";

const SLACK = 1e-9;
const HALF = frac(1, 2);
const A_MILLIONTH = Fraction.of(1e-6);

export function roundTo(value, step, way) {
  const steps = value / step;
  const low = Math.floor(steps);
  // Its last bit must not decide a half.
  const nearest = round(Math.abs(steps - low - 0.5) < SLACK ? low + 0.5 : steps);
  if (way === "near" || Math.abs(steps - nearest) < SLACK * Math.max(1, Math.abs(steps))) return (nearest || 0) * step;
  // Whole numbers have no minus zero in Python.
  return ((way === "up" ? Math.ceil(steps) : Math.floor(steps)) || 0) * step;
}

export function decimalText(value, places) {
  const scale = 10n ** BigInt(places);
  const whole = Fraction.of(value).mul(scale).add(HALF).floor();
  const text = fixed(whole < 0n ? -divide(-whole, scale) : divide(whole, scale), places);
  return text.includes(".") ? text.replace(/0+$/, "").replace(/\.$/, "") : text;
}

export function thousandthsText(inches) {
  const [whole, places = ""] = decimalText(inches, 4).split(".");
  return `${whole}.${places.padEnd(3, "0")}`;
}

export function inchFractionText(inches, finest = 64) {
  // A double times 64 is exact, so both kinds go the same way.
  const steps = Fraction.of(inches).mul(finest);
  const marks = steps.round();
  if (steps.sub(marks).abs().gt(A_MILLIONTH)) return "";
  const exact = frac(marks, finest);
  const sign = exact.n < 0n ? "-" : "";
  const size = exact.abs();
  const whole = size.floor();
  const part = size.sub(whole);
  if (part.n === 0n) return `${sign}${whole} in`;
  return `${sign}${whole ? `${whole}-` : ""}${part.n}/${part.d} in`;
}

export function rulerText(inches, metric, way, step = null) {
  if (metric) return `${decimalText(roundTo(inches * MM_PER_INCH, step || 1, way), 2)} mm`;
  return inchFractionText(roundTo(inches, step || 1 / 16, way));
}

export function fineText(inches, metric, way = "near") {
  if (metric) return `${fixed(roundTo(inches * MM_PER_INCH, 0.01, way), 2)} mm`;
  return `${fixed(roundTo(inches, 0.001, way), 3)} in`;
}

export const quantity = (inches, text) => ({ mm: Number(inches) * MM_PER_INCH, in: Number(inches), text });
export const near = (inches, metric) => quantity(inches, fineText(inches, metric, "near"));
export const down = (inches, metric) => quantity(inches, fineText(inches, metric, "down"));
export const up = (inches, metric) => quantity(inches, fineText(inches, metric, "up"));
