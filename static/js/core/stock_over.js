// Mirrors core/stock_over.py: stock that goes over the damaged tube: outer sleeve, larger tube, split sleeve.

import { clearance, fitChecks, nominalClearance } from "./fit.js";
import { frac } from "./fraction.js";
import { readLength } from "./lengths.js";
import { fitRules as largerRules, words as largerWords } from "./methods/larger_tube_checks.js";
import { fitRules as splitRules } from "./methods/split_sleeve.js";
import { fixed, least } from "./python.js";
import { ruleLength } from "./sleeve.js";
import { INSPECTOR, reason, standing, stockRow } from "./stock_rows.js";
import { usualSizes } from "./stock_sizes.js";
import { largerTubeInput, sizeInput, splitSleeveInput } from "./tables.js";

class Over {
  pieces = 1;
  end = null;

  // `between`: the member that tells what lies between the stub ends or the ends of the damage.
  constructor(between, most, notGiven, rules, words) {
    Object.assign(this, { between, notGiven, rules, words });
    this.lengths = { [between]: [most, between !== "damage_length", notGiven ? null : "0 in"] };
  }

  row(ask, stock) {
    const checks = this.rules(ask.tube, stock, ask.metric);
    return stockRow(ask.tube, stock, clearance(ask.tube, stock), checks, standing(checks), reason(checks), ask.metric);
  }

  needs(ask, stock) {
    return ruleLength(ask.tube.D, stock.D, ask.inches(this.between), ask.cut) * ask.count;
  }

  isNear(ask, stock) {
    return nominalClearance(ask.tube, stock).ge(frac(-1, 16)) && stock.od.inches.gt(ask.tube.od.inches);
  }

  usual(ask) {
    return usualSizes(ask.tube);
  }

  extras(ask, bought) {
    const note = this.words(nothingUsual(ask.tube, bought));
    if (!this.notGiven) return { note };
    const given = ask.lengths[this.between];
    const what = this.between === "damage_length" ? "length of the damage" : this.between;
    return { note, needs_note: given ? `The length needed holds the ${what}, ${given.typed}.` : this.notGiven };
  }
}

// The story of a tube that no common sleeve step fits by the letter (as .134 wall).
function nothingUsual(tube, bought) {
  const clean = new Map(bought
    .filter((entry) => entry.clearance.nominal.in > 0 && entry.checks.every((one) => one.verdict !== "not met"))
    .map((entry) => [entry.size, entry]));
  const close = ({ od }) => readLength(od).inches.sub(tube.od.inches).le(frac(1, 4));
  if ([...clean.values()].some(close) || tube.od.isMetric) return "";
  const thinner = bought.filter((entry) => entry.standing === INSPECTOR && entry.area_in2 >= entry.tube_area_in2);
  let text = `No usual sleeve up to 1/4 in over this tube has both wall ${tube.wall.typed} or more and clearance 0 to 1/16 in.`;
  if (clean.size) text += ` By the letter: ${[...clean.keys()].slice(0, 2).join(", ")}.`;
  if (thinner.length) {
    const best = least(thinner, (entry) => [entry.clearance.nominal.in]);
    text += ` Shops use ${best.size} (common practice, no source): less wall, yet more area, ${fixed(best.area_in2, 3)} in² against ` +
      `${fixed(best.tube_area_in2, 3)} in². The literal wall rule is not met: ask for the inspector's agreement.`;
  }
  return text;
}

const asItIs = (text) => text;
const leftOut = (what) => `The length needed leaves out the ${what}: it is not given yet.`;

export const OUTER = new Over("gap", sizeInput.WIDEST_GAP, "", fitChecks, asItIs);
export const LARGER = new Over("opening", largerTubeInput.WIDEST_OPENING, leftOut("opening, stub end to stub end"), largerRules, largerWords);
export const SPLIT = new Over("damage_length", splitSleeveInput.LONGEST_DAMAGE, leftOut("length of the damage along the tube"), splitRules, asItIs);
