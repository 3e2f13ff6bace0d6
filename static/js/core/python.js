// What Python's built-ins do and JavaScript's do otherwise: whitespace, repr, number texts, rounding.
// The core's answers hang on these, so they are mirrored and not approximated.

import { Fraction, divide } from "./fraction.js";

// str.isspace: differs from \s in the separators 1C to 1F, 85 and FEFF.
export const SPACE = "\\t-\\r\\x1c-\\x20\\x85\\xa0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000";
const EDGES = new RegExp(`^[${SPACE}]+|[${SPACE}]+$`, "g");
const GAP = new RegExp(`[${SPACE}]+`);

export const strip = (text) => text.replace(EDGES, "");
export const words = (text) => strip(text).split(GAP).filter((word) => word);
// Python counts characters, not UTF-16 units.
export const length = (text) => (/[\ud800-\udfff]/.test(text) ? [...text].length : text.length);
export const slice = (text, from, to) => [...text].slice(from, to).join("");

export const isText = (value) => typeof value === "string";
export const isDict = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
export const isNumber = (value) => typeof value === "number";
export const own = (object, name) => isText(name) && Object.hasOwn(object, name);
// dict.get: names every object inherits ("constructor") are not members.
export const get = (object, name, otherwise = null) => (own(object, name) ? object[name] ?? null : otherwise);
export const truthy = (value) =>
  Array.isArray(value) ? value.length > 0 : isDict(value) ? Object.keys(value).length > 0 : Boolean(value);

export function repr(value) {
  if (value === null || value === undefined) return "None";
  if (value === true) return "True";
  if (value === false) return "False";
  if (isNumber(value)) return numberRepr(value);
  if (isText(value)) return textRepr(value);
  if (Array.isArray(value)) return `[${value.map(repr).join(", ")}]`;
  return `{${Object.entries(value).map(([name, part]) => `${textRepr(name)}: ${repr(part)}`).join(", ")}}`;
}

function numberRepr(value) {
  if (Number.isInteger(value)) return String(value === 0 ? 0 : value);
  if (Math.abs(value) >= 1e-4) return String(value);
  const [digits, power] = value.toExponential().split("e");
  return `${digits}e-${power.slice(1).padStart(2, "0")}`;
}

const ESCAPES = { "\\": "\\\\", "\n": "\\n", "\r": "\\r", "\t": "\\t" };

function textRepr(text) {
  const quote = text.includes("'") && !text.includes('"') ? '"' : "'";
  let out = quote;
  for (const character of text) {
    if (character === quote) out += `\\${quote}`;
    else if (ESCAPES[character]) out += ESCAPES[character];
    else if (character === " " || !/[\p{C}\p{Z}]/u.test(character)) out += character;
    else {
      const code = character.codePointAt(0).toString(16);
      out += code.length < 3 ? `\\x${code.padStart(2, "0")}` : code.length < 5 ? `\\u${code.padStart(4, "0")}` : `\\U${code.padStart(8, "0")}`;
    }
  }
  return out + quote;
}

// f"{x:.{places}f}": rounded from the exact double, halves to even.
export function fixed(x, places) {
  const sign = x < 0 || Object.is(x, -0) ? "-" : "";
  const digits = Fraction.of(Math.abs(x)).mul(10n ** BigInt(places)).round().toString().padStart(places + 1, "0");
  return sign + (places ? `${digits.slice(0, -places)}.${digits.slice(-places)}` : digits);
}

// f"{x:.{digits}g}"
export function general(x, digits = 6) {
  if (x === 0) return "0";
  const exact = Fraction.of(Math.abs(x));
  let power = Number(Math.abs(x).toExponential().split("e")[1]);
  const scaled = (p) => {
    const shift = digits - 1 - p;
    const ten = 10n ** BigInt(Math.abs(shift));
    return (shift < 0 ? exact.div(ten) : exact.mul(ten)).round().toString();
  };
  let text = scaled(power);
  if (text.length > digits) text = scaled((power += 1));
  const trim = (t) => (t.includes(".") ? t.replace(/0+$/, "").replace(/\.$/, "") : t);
  const sign = x < 0 ? "-" : "";
  if (power < -4 || power >= digits) {
    return `${sign}${trim(`${text[0]}.${text.slice(1)}`)}e${power < 0 ? "-" : "+"}${String(Math.abs(power)).padStart(2, "0")}`;
  }
  if (power < 0) return `${sign}${trim(`0.${"0".repeat(-power - 1)}${text}`)}`;
  return sign + trim(`${text.slice(0, power + 1)}.${text.slice(power + 1)}`);
}

// round(x): halves to even.
export function round(x) {
  const low = Math.floor(x);
  const part = x - low;
  if (part !== 0.5) return part < 0.5 ? low : low + 1;
  return low % 2 === 0 ? low : low + 1;
}

// round(x, places), as a double.
export const roundPlaces = (x, places) => {
  const scale = 10n ** BigInt(places);
  const whole = Fraction.of(x).mul(scale).round();
  return whole < 0n ? -divide(-whole, scale) : divide(whole, scale);
};

// sorted(key=...) for lists of numbers, booleans and fractions, compared in order.
export const compareKeys = (a, b) => {
  for (let i = 0; i < a.length; i += 1) {
    const side = a[i] instanceof Fraction ? a[i].cmp(b[i]) : a[i] < b[i] ? -1 : a[i] > b[i] ? 1 : 0;
    if (side) return side;
  }
  return 0;
};

// min(items, key=...): the first of the smallest.
export const least = (items, key) =>
  items.reduce((best, item) => (compareKeys(key(item), key(best)) < 0 ? item : best));

// a * a as a double and what it leaves out (Veltkamp, Dekker).
function square(a) {
  const far = a * 134217729;
  const high = far - (far - a);
  const low = a - high;
  const product = a * a;
  return [product, high * high - product + 2 * high * low + low * low];
}

// math.hypot: right to the last bit, where Math.hypot often is not.
export function hypot(x, y) {
  const [small, large] = Math.abs(x) < Math.abs(y) ? [Math.abs(x), Math.abs(y)] : [Math.abs(y), Math.abs(x)];
  if (large === 0) return 0;
  const [first, firstRest] = square(large);
  const [second, secondRest] = square(small);
  const sum = first + second;
  const rest = first - sum + second + (firstRest + secondRest);
  const root = Math.sqrt(sum);
  const [back, backRest] = square(root);
  return root + (sum - back - backRest + rest) / (2 * root);
}
