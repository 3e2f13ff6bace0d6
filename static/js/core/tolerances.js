// Mirrors core/tolerances.py: drawn-over-mandrel tube tolerances, ASTM A513 type 5.

import { roundPlaces } from "./python.js";
import { tolerances } from "./tables.js";

const { DIAMETER_TABLE, WALL_TABLE } = tolerances;

// Inches for an outside diameter in inches, null past the table.
export function diameterTolerance(outsideDiameter) {
  const rounded = roundPlaces(outsideDiameter, 3);
  const row = DIAMETER_TABLE.find(([low, high]) => low <= rounded && rounded <= high);
  return row ? row[2] : null;
}

// A wall between two listed ones takes the thicker row; null past the table.
export function wallTolerance(outsideDiameter, wall) {
  if (!(outsideDiameter >= 0.375 && outsideDiameter <= 3.75)) return null;
  const column = outsideDiameter <= 0.875 ? 0 : outsideDiameter <= 1.875 ? 1 : 2;
  for (const [listed, row] of WALL_TABLE) {
    if (listed >= wall - 1e-6 && row[column] !== null && wall >= 0.035 - 1e-6) {
      const [plus, minus] = row[column];
      return { plus, minus, listed: Math.abs(listed - wall) < 1e-6 };
    }
  }
  return null;
}
