// Mirrors core/assess_input.py: reads what was measured and seen at the damage.

import { readLength } from "./lengths.js";
import { CoreProblem, collect } from "./problems.js";
import { isText, strip } from "./python.js";
import { openJob, upTo } from "./size_input.js";
import { assessInput as T } from "./tables.js";
import { oneOf } from "./tube.js";

export function readFindings(data) {
  const reader = openJob(data, T.MEMBERS, "an object with tube and damage.", "Send tube and damage.", "findings");
  const { unit } = reader;
  const readAll = (names, read) => Object.fromEntries(Object.keys(names).map((name) => [name, reader.read(name, read)]));
  const tube = reader.tube("tube");
  const damage = reader.read("damage", (v) => oneOf("kind of damage", v, T.DAMAGE_KINDS));
  const knownBy = reader.read("known_by", (v) => oneOf("way to know the material", v ?? "assumption", T.KNOWN_BY));
  const readings = reader.read("od_readings", (v) => readReadings(v, unit));
  const answers = readAll(T.QUESTIONS, readAnswer);
  const lengths = readAll(T.LENGTHS, (v) => readMeasured(v, unit));
  const member = reader.read("member", readMember);
  collect(reader.problems);
  return {
    tube, damage, knownBy, readings, answers, lengths, member, metric: reader.isMetric(tube), D: tube.D,
    inches: (name) => (lengths[name] === null ? null : Number(lengths[name])),
  };
}

// Largest - smallest outside diameter reading, inches, null under two readings.
export function ovality({ readings }) {
  const values = readings.map(Number);
  return values.length > 1 ? Math.max(...values) - Math.min(...values) : null;
}

function readMember(value) {
  if (value === null) return "";
  if (isText(value)) return strip(value);
  throw new CoreProblem("bad-member", "The member must be text.", {
    given: value, allowed: "a member of your rule sheet, or none.", next: "Choose a member of the sheet, or leave it out.",
  });
}

// yes true, no false, unknown or empty null.
export const readAnswer = (value) =>
  ({ yes: true, no: false, unknown: null })[oneOf("answer", value === null || value === "" ? "unknown" : value, T.ANSWERS)];

function readMeasured(value, defaultUnit) {
  if (value === null || value === "") return null;
  return upTo(readLength(value, { defaultUnit, allowZero: true }), T.LONGEST);
}

function readReadings(value, defaultUnit) {
  if (value === null) return [];
  if (!Array.isArray(value) || value.length > 12) {
    throw new CoreProblem("bad-readings", "The readings must be a list of lengths.", {
      given: value, allowed: "up to 12 text lengths.", next: 'Send for example ["1.625 in", "1.620 in"].',
    });
  }
  return value.filter((text) => text !== "").map((text) => readLength(text, { role: "diameter", defaultUnit }));
}
