// Mirrors core/units.py: one inch is exactly 25.4 mm.

import { Fraction } from "./fraction.js";
import { units } from "./tables.js";

export const MM = Fraction.of(units.MM_PER_INCH);
export const MM_PER_INCH = Number(MM);
export const INCHES_PER = Object.fromEntries(Object.entries(units.INCHES_PER).map(([name, inches]) => [name, Fraction.of(inches)]));
