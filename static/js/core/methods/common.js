// Mirrors core/methods/common.py: what the methods share.

import { holeSizes } from "../rosette.js";
import { fixed, general } from "../python.js";
import { down, fineText, near, quantity, roundTo, up } from "../quantity.js";
import { check, label, pick } from "../rules.js";
import { OVERLAP_DIAMETERS } from "../sleeve.js";
import { plainSize } from "../tube.js";
import { MM_PER_INCH } from "../units.js";

// A needed length rounded up to the shop's ruler, 1 mm or 1/16 in; inches.
export const blank = (exact, metric) =>
  metric ? roundTo(exact * MM_PER_INCH, 1, "up") / MM_PER_INCH : roundTo(exact, 1 / 16, "up");

export const number = (label_, value, note = "") => ({ label: label_, value, note });

export const typedQuantity = (length) => quantity(Number(length), length.typed);
export const echoOf = (length) => (length ? length.echo() : null);

export const tubeEcho = (part, metric) => ({
  od: part.od.echo(), wall: part.wall.echo(), inside: near(part.d, metric),
  material: part.material.key, material_name: part.material.name, seam: part.seam, area_in2: part.area,
});

export function clearanceBlock(fit, metric, less = 0) {
  const lowest = (value) => (value === null ? null : down(value - less, metric));
  const highest = (value) => (value === null ? null : up(value - less, metric));
  return {
    nominal: near(fit.nominal - less, metric), worst_min: lowest(fit.worstMin), worst_max: highest(fit.worstMax),
    by_wall_min: lowest(fit.byWallMin), by_wall_max: highest(fit.byWallMax),
  };
}

export function angleCheck(cut, rule) {
  const angle = 90 - cut.mitreDeg;
  const met = Math.abs(angle - 30) < 1e-9 || null;
  return check("end_angle", rule, `${general(angle)}° to the axis`, "30° to the axis", met, pick(met,
    "The angle the circular's figures draw.", "", "The circular's figures draw 30° to the axis. Ask the inspector about this angle."));
}

export const holes = (innerOd, drilled, metric) =>
  holeSizes(innerOd, drilled.od.inches, drilled.wall.inches).map(({ key, source, text, diameter }) => ({
    key, source, text, diameter: quantity(diameter, metric ? fineText(Number(diameter), true) : `${diameter} in`),
  }));

export const largestHole = (sizes) => Math.max(...sizes.map((row) => row.diameter.in));

// Warnings, the ones that can hurt someone first: missed checks 1, unknown ones 3.
export function ranked(checks, notes) {
  const ranks = { "not met": 1, unknown: 3 };
  const found = checks.filter((one) => ranks[one.verdict]).map((one) => [ranks[one.verdict], one.text]);
  return byRank([...found, ...notes]);
}

export const byRank = (rows) => rows.sort((a, b) => a[0] - b[0]).map(([rank, text]) => ({ rank, text }));

export const materialNotes = (parts) =>
  Object.entries(parts).filter(([, part]) => part.material.note).map(([name, part]) => [3, `${name}: ${part.material.note}`]);

// Rounded down, but just enough reads as what is needed.
export const overlapText = (given, needed, metric) => fineText(given, metric, Math.abs(given - needed) < 1e-9 ? "up" : "down");

// An overlap in tube diameters; one that falls short never reads as 1.5.
export function shareText(diameters, places) {
  const text = fixed(roundTo(diameters, 10 ** -places, "near"), places);
  const fallsShort = diameters < OVERLAP_DIAMETERS && Number(text) >= OVERLAP_DIAMETERS;
  return fallsShort ? fixed(roundTo(diameters, 10 ** -places, "down"), places) : text;
}

export function spliceSummary(method, clauseKey, tube, sleeve, cut, lengths, metric, more = {}) {
  const length = (lengths.given ?? lengths.blank).text;
  const angle = general(cut.mitreDeg);
  const steel = tube.material.steel_class;
  const sizes = { tube: plainSize(tube), sleeve: plainSize(sleeve), material: sleeve.material.name };
  return {
    tag: { ...sizes, end: cut.end, mitre_deg: angle, length, method, clause: label(clauseKey) },
    context: {
      ...sizes, blank_length: length, mitre: cut.end === "square" ? "square" : `${angle}°`, od: tube.D, wall: tube.t,
      rule_length: lengths.rule.in, metric, ...more, ...(steel === "unknown" ? {} : { material_class: steel }),
    },
  };
}
