// Mirrors core/stock_inner.py: stock that goes inside the damaged tube, as it is or turned down.

import { LARGEST_CLEARANCE } from "./fit.js";
import { frac } from "./fraction.js";
import { SLEEVES, innerClearance, innerRuleLength } from "./methods/inner_sleeve.js";
import { fitRules } from "./methods/inner_sleeve_checks.js";
import { exactLength, turnedDown } from "./methods/inner_sleeve_input.js";
import { SLIDE, options } from "./methods/inner_sleeve_options.js";
import { FITS, MEASURE, TURN, reason, standing, stockRow } from "./stock_rows.js";
import { sizesAtBore } from "./stock_sizes.js";
import { innerSleeveInput, sizeInput } from "./tables.js";

// A tube much larger than the bore is a lathe job nobody does.
const MOST_OVER_BORE = frac(-1, 2);
const LOOSEST_SHOWN = LARGEST_CLEARANCE.mul(2);

export const INNER = {
  pieces: SLEEVES,
  end: "scarf",
  lengths: { gap: [sizeInput.WIDEST_GAP, true, innerSleeveInput.DEFAULT_GAP], bead: [innerSleeveInput.TALLEST_BEAD, false, null] },

  // `turned_od` where a tube is judged as turned down to that.
  row(ask, stock) {
    const turned = stock.od.inches.gt(ask.bore) && keepsWall(ask, stock) ? exactLength(ask.bore.sub(SLIDE), ask.metric) : null;
    const job = jobOf(ask, stock, turned);
    const fit = innerClearance(job, job.tube);
    const checks = fitRules(job, fit);
    let [stand, why] = [standing(checks, ["clearance", "bead"]), reason(checks)];
    if (turned) {
      stand = [FITS, MEASURE].includes(stand) ? TURN : stand;
      const way = `Turn it down to ${turned.typed}, ${job.sleeve.wall.typed} of wall left. Check the wall all round: the bore may be off centre.`;
      why = stand === TURN && why === checks[0].text ? way : `${way} ${why}`;
    }
    return { ...stockRow(ask.tube, stock, fit, checks, stand, why, ask.metric), ...(turned ? { turned_od: turned.typed } : {}) };
  },

  needs: (ask) => innerRuleLength(ask.tube.D, ask.inches("gap"), ask.cut) * ask.count,

  isNear(ask, stock) {
    const room = ask.bore.sub(stock.od.inches);
    if (room.ge(LARGEST_CLEARANCE.neg()) && room.le(LOOSEST_SHOWN)) return true;
    return room.ge(MOST_OVER_BORE) && room.lt(0) && keepsWall(ask, stock);
  },

  usual: (ask) => sizesAtBore(ask.tube),

  // The bead, and every way to an inner tube.
  extras(ask) {
    const job = jobOf(ask, ask.tube);
    const ways = options(job);
    const bead = fitRules(job, innerClearance(job, job.tube)).find((one) => one.id === "bead");
    const said = [
      ...(bead.verdict !== "met" && !ask.lengths.bead ? [bead.text] : []), ...(ways[0].size === "none" ? [ways[0].text] : []),
    ];
    const pieces = ask.count > 1 ? `${ask.count} sleeves, one for each cut` : "one sleeve";
    return {
      note: said.join(" "),
      needs_note: `The length needed is for ${pieces}, with a gap of ${ask.lengths.gap.typed} along the axis.`,
      options: ways,
    };
  },
};

// Whether a tube keeps the damaged tube's wall when turned down to slide in.
const keepsWall = (ask, stock) =>
  stock.wall.inches.sub(stock.od.inches.sub(ask.bore).add(SLIDE).div(2)).ge(ask.tube.wall.inches);

const jobOf = (ask, stock, turned = null) => ({
  tube: ask.tube, bought: stock, sleeve: turnedDown(stock, turned, ask.metric), replacement: ask.tube, replacementGiven: false,
  cut: ask.cut, gap: ask.lengths.gap, length: null, bead: ask.lengths.bead, turned, metric: ask.metric,
});
