// Mirrors core/lengths.py: reads a length exactly as a person types it; two readings are a question.

import { Fraction, frac } from "./fraction.js";
import { CoreProblem } from "./problems.js";
import { SPACE, isText, length, own, strip } from "./python.js";
import { decimalText, inchFractionText, thousandthsText } from "./quantity.js";
import { gauges, lengths } from "./tables.js";
import { INCHES_PER, MM } from "./units.js";

const { FORMS, LONGEST_TEXT, UNIT_NAMES } = lengths;
const SPELLED_FRACTION = new RegExp(`[${lengths.FRACTION_CHARACTERS}]`, "g");
export const GAUGE_INCHES = new Map(gauges.GAUGE_INCHES.map(([number, inches]) => [number, Fraction.of(inches)]));

// re.ASCII, so no \s here: it knows more spaces in JavaScript.
const S = "[ \\t-\\r]*";
const NUMBER =
  `(?:(?<whole>\\d+)(?<join>${S}-${S}|[ \\t-\\r]+)(?<top>\\d+)${S}/${S}(?<bottom>\\d+)` +
  `|(?<ftop>\\d+)${S}/${S}(?<fbottom>\\d+)|(?<dec>\\d+\\.\\d*|\\.\\d+|\\d+))`;
const ONE = new RegExp(`^${NUMBER}${S}-?${S}(?<unit>[a-z]+\\.?|''|"|')?$`);
const FEET_INCHES = new RegExp(`^(?<feet>\\d+)${S}-?${S}(?:ft\\.?|foot|feet|')${S}-?${S}(?<rest>\\d[^\\n]*|\\.\\d[^\\n]*)$`);
const NEGATIVE = new RegExp(`^-|\\([${SPACE}]*-`);

export const translate = (text) =>
  Array.from(text, (c) => (own(lengths.MARKS, c) ? lengths.MARKS[c] : c)).join("");

export class Length {
  constructor(inches, typed, unit) {
    Object.assign(this, { inches, typed, unit });
  }

  get mm() {
    return this.inches.mul(MM);
  }

  get isMetric() {
    return ["mm", "cm", "m"].includes(this.unit);
  }

  valueOf() {
    return Number(this.inches);
  }

  // How the text was understood, as an equation in inches and millimetres.
  echo() {
    const parts = [];
    const onRuler = [1n, 2n, 4n, 8n, 16n, 32n, 64n].includes(this.inches.d);
    if (this.unit === "ga") parts.push(`${gaugeFor(this.inches)} ga`);
    else if (onRuler && this.inches.d > 1n) parts.push(inchFractionText(this.inches));
    const decimal = onRuler ? decimalText(this.inches, 4) : thousandthsText(this.inches);
    const [inches, mm] = [`${decimal} in`, `${decimalText(this.mm, 2)} mm`];
    return [...parts, ...(this.isMetric ? [mm, inches] : [inches, mm])].join(" = ");
  }

  // The JSON of GET /api/length.
  asDict() {
    return { typed: this.typed, in: Number(this), mm: Number(this.mm), echo: this.echo() };
  }
}

export function gaugeFor(wall) {
  for (const [number, inches] of GAUGE_INCHES) if (inches.eq(wall)) return number;
  return null;
}

// core/gauges.py gauge_text: a gauge with its wall in both units.
export const gaugeText = (wall) =>
  `${gaugeFor(wall)} ga (${thousandthsText(wall)} in, ${decimalText(wall.mul(MM), 2)} mm)`;

// core/gauges.py next_thicker: the gauge wall one step thicker, null past 7 gauge.
export function nextThicker(wall) {
  const thicker = [...GAUGE_INCHES.values()].filter((inches) => Number(inches) > wall + 1e-9);
  return thicker.length ? thicker.reduce((best, one) => (one.lt(best) ? one : best)) : null;
}

export function readLength(text, { role = "length", defaultUnit = "in", allowZero = false } = {}) {
  if (!isText(text)) {
    throw new CoreProblem("bad-length", "A length must be text.", {
      given: text, allowed: `${FORMS}.`, next: "Put the length in quotes, with its unit.",
    });
  }
  const typed = strip(text);
  const clean = tidy(typed);
  if (!clean) throw refuse(typed, "No length was given.", "Type the length with its unit.");
  if (length(typed) > LONGEST_TEXT) throw refuse(typed, "That is too long for a length.", "Type only the number and its unit.");
  if (clean.includes(",")) {
    const point = clean.replaceAll(",", ".");
    throw ask(typed, `Is the comma a decimal point (${point}) or a thousands mark (${clean.replaceAll(",", "")})?`,
      "Type it again with a point, or without the comma.");
  }
  if (NEGATIVE.test(clean)) throw refuse(typed, "A length cannot be negative.", "Measure again and type it without the minus.");
  const [inches, unit] = feetInches(typed, clean) ?? single(typed, clean, role, defaultUnit);
  if (inches.n === 0n && !allowZero) throw refuse(typed, "A length of zero is no measurement.", "Measure it and type what you read.");
  return new Length(inches, typed, unit);
}

// Lower-case ASCII forms, vulgar fractions set off by a space.
function tidy(typed) {
  const spaced = typed.replace(SPELLED_FRACTION, " $&");
  return strip(translate(translate(spaced).normalize("NFKC"))).toLowerCase();
}

function feetInches(typed, clean) {
  const found = FEET_INCHES.exec(clean);
  if (!found) return null;
  const [rest, unit] = single(typed, strip(found.groups.rest), "length", "in");
  if (unit !== "in") throw refuse(typed, "Feet go with inches only.", "Type it as feet and inches, or in one unit.");
  if (rest.ge(12)) {
    throw ask(typed, "The inches after the feet come to a foot or more. Is one of the two wrong?",
      "Type feet and inches under 12, or inches alone.");
  }
  return [frac(found.groups.feet).mul(12).add(rest), "ft"];
}

function single(typed, clean, role, defaultUnit) {
  const found = ONE.exec(clean);
  if (!found) throw refuse(typed, "That is not a length this reads.", "Type a whole number, a fraction or a decimal, then the unit.");
  const [value, isWhole] = number(typed, found.groups);
  let name = (found.groups.unit ?? "").replace(/\.+$/, "");
  if (name === "mil" || name === "mils") throw ask(typed, "Is that thousandths of an inch or millimetres?", "Type thou or mm.");
  if (!name) {
    if (role === "wall" && isWhole && defaultUnit === "in" && value.gt(0)) throw askWall(typed, value.n);
    name = defaultUnit;
  }
  if (!own(UNIT_NAMES, name)) throw refuse(typed, `The unit '${name}' is not known.`, "Use in, ft, mm, cm, m, thou or, for a wall, ga.");
  const unit = UNIT_NAMES[name];
  if (unit === "ga") return [gauge(typed, value, isWhole, role), unit];
  return [value.mul(INCHES_PER[unit]), unit];
}

function number(typed, { whole, top, bottom, ftop, fbottom, dec }) {
  if (dec !== undefined) return [Fraction.of(dec.replace(/\.+$/, "")), !dec.includes(".")];
  const [over, under] = [top ?? ftop, bottom ?? fbottom];
  if (BigInt(under) === 0n) throw refuse(typed, "A fraction cannot be over zero.", "Type the fraction again.");
  const part = frac(over, under);
  if (whole === undefined) return [part, false];
  const all = frac(whole).add(part);
  if (part.ge(1)) {
    throw ask(typed, `The fraction is one or more. Is it ${all} in all, or is a digit wrong?`,
      "Type a fraction under one after the whole number.");
  }
  return [all, false];
}

function gauge(typed, value, isWhole, role) {
  if (role !== "wall") throw refuse(typed, "A gauge number is a wall, not a length.", "Type the length in inches or millimetres.");
  const known = [...GAUGE_INCHES.keys()];
  const found = isWhole ? GAUGE_INCHES.get(Number(value.n)) : undefined;
  if (!found) {
    throw new CoreProblem("bad-length", "That gauge is not in the tubing gauge table.", {
      given: typed, allowed: `whole tubing gauges (BWG) ${Math.min(...known)} to ${Math.max(...known)}.`,
      next: "Measure the wall and type it in inches or millimetres.",
    });
  }
  return found;
}

// A bare whole number: only readings that could be a wall.
function askWall(typed, value) {
  const readings = [
    ...(value >= 20n ? [`${value} thou`] : []),
    ...(GAUGE_INCHES.has(Number(value)) ? [`${value} ga`] : []),
    ...(value <= 19n ? [`${value} mm`] : []),
  ];
  const choice = readings.join(" or ");
  return ask(typed, `${choice}?`, `Type it with its unit: ${choice}.`);
}

const refuse = (typed, title, next) => new CoreProblem("bad-length", title, { given: typed, allowed: `${FORMS}.`, next });
const ask = (typed, question, next) => new CoreProblem("ask-length", question, { given: typed, allowed: `${FORMS}.`, next });
