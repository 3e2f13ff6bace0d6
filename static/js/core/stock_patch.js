// Mirrors core/stock_patch.py: stock a patch is cut from, its bore near the damaged tube's outside.

import { LARGEST_CLEARANCE, clearance, nominalClearance } from "./fit.js";
import { frac } from "./fraction.js";
import { gaugeText } from "./lengths.js";
import { MARGIN_TEXT, gaugeWanted, stockRules } from "./methods/patch.js";
import { fineText } from "./quantity.js";
import { reason, standing, stockRow } from "./stock_rows.js";
import { sizesForPatch } from "./stock_sizes.js";
import { patchInput, splitSleeveInput } from "./tables.js";

// Tube is formed round from about this far off; further off, sheet is less work.
const FORMED_FROM = frac(3, 8);

export const PATCH = {
  pieces: 1,
  end: "square",
  lengths: { damage_length: [splitSleeveInput.LONGEST_DAMAGE, false, null], margin: [patchInput.WIDEST_MARGIN, false, null] },

  row(ask, stock) {
    const checks = stockRules(ask.tube, stock.wall, stock.material);
    const why = `${reason(checks)} ${forming(nominalClearance(ask.tube, stock), ask.metric)}`;
    return stockRow(ask.tube, stock, clearance(ask.tube, stock), checks, standing(checks), why, ask.metric);
  },

  needs: (ask) => (ask.lengths.damage_length ? (ask.inches("damage_length") + 2 * ask.inches("margin")) * ask.count : null),

  isNear: (ask, stock) => nominalClearance(ask.tube, stock).abs().le(FORMED_FROM),

  usual(ask) {
    const wall = gaugeWanted(ask.tube.wall.inches);
    return wall ? sizesForPatch(ask.tube, wall) : [];
  },

  // Sheet is not ranked; and what the length leaves out.
  extras(ask, bought) {
    const wall = gaugeWanted(ask.tube.wall.inches);
    const { damage_length: damage, margin } = ask.lengths;
    const note = !wall
      ? "The gauge table ends at 7 gauge (.180 in). Ask the inspector which wall to use. Nothing to buy can be named."
      : `A patch can be cut from sheet too: ${gaugeText(wall)}, the tube's steel. The rack lists tube only, so sheet is not ranked.` +
        (bought.length ? "" : " No usual tube has this wall.");
    const needs = !damage ? `The length needed is not known: the damage is not measured along the tube. ${MARGIN_TEXT}`
      : !margin ? `The length needed is the damage alone. The patch is longer. ${MARGIN_TEXT}`
      : `The length needed is the damage, and ${margin.typed} past it on each side.`;
    return { note, needs_note: needs };
  },
};

// How a patch cut from a tube is brought onto the damaged tube.
function forming(room, metric) {
  const size = fineText(Math.abs(Number(room)), metric);
  if (room.ge(0) && room.le(LARGEST_CLEARANCE)) return "It lies on the tube almost as it is.";
  return room.gt(0) ? `Its bore is ${size} larger than the tube: close the patch up onto it.`
    : `Its bore is ${size} smaller than the tube: open the patch out onto it.`;
}
