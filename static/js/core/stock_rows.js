// Mirrors core/stock_rows.py: one row of ranked stock: a tube, the rules it is held to, and what they come to.

import { fineText, quantity } from "./quantity.js";
import { stockRows } from "./tables.js";
import { sizeText } from "./tube.js";

export const { STANDING_ORDER } = stockRows;
export const [FITS, MEASURE, TURN, INSPECTOR, DOES_NOT] = Object.keys(STANDING_ORDER);

// What stock is ranked for.
export class Ask {
  constructor(tube, cut, lengths, count, metric) {
    Object.assign(this, { tube, cut, lengths, count, metric });
  }

  // Inches, 0 where not given.
  inches(name) {
    return Number(this.lengths[name] ?? 0);
  }

  get bore() {
    return this.tube.od.inches.sub(this.tube.wall.inches.mul(2));
  }
}

export function standing(checks, stops = ["clearance"]) {
  const missed = checks.filter((one) => one.verdict === "not met");
  if (missed.some(({ id }) => stops.some((stop) => id.startsWith(stop)))) return DOES_NOT;
  if (missed.length) return INSPECTOR;
  return checks.some((one) => one.verdict === "unknown") ? MEASURE : FITS;
}

// The text of the check that decides: first missed, else first unknown, else first.
export const reason = (checks) =>
  (checks.find((one) => one.verdict === "not met") ?? checks.find((one) => one.verdict === "unknown") ?? checks[0]).text;

export const stockRow = (tube, stock, fit, checks, stand, why, metric) => ({
  size: sizeText(stock), od: stock.od.typed, wall: stock.wall.typed, material: stock.material.key,
  material_name: stock.material.name, seam: stock.seam, standing: stand, why,
  clearance: {
    nominal: quantity(fit.nominal, fineText(fit.nominal, metric)),
    lowest: quantity(fit.lowest, fineText(fit.lowest, metric, "down")),
    highest: quantity(fit.highest, fineText(fit.highest, metric, "up")),
  },
  area_in2: stock.area, tube_area_in2: tube.area, checks,
});
