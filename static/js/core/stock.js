// Mirrors core/stock.py: ranks sleeve stock, what is on the rack first, then sizes that could be bought.

import { clearance, fitChecks, nominalClearance } from "./fit.js";
import { frac } from "./fraction.js";
import { Length, readLength } from "./lengths.js";
import { MATERIALS } from "./materials.js";
import { CoreProblem, collect } from "./problems.js";
import { compareKeys, fixed, get, isDict, least, roundPlaces, truthy } from "./python.js";
import { fineText, inchFractionText, quantity, rulerText } from "./quantity.js";
import { DEFERENCE } from "./rules.js";
import { upTo } from "./size_input.js";
import { readEndCut, ruleLength } from "./sleeve.js";
import { sizeInput, stock as T } from "./tables.js";
import { Tube, oneOf, readTube, sizeText, unknownMembers } from "./tube.js";

const KEPT = ["id", "heat_number", "certificate", "location", "note"];

export function candidates(data) {
  if (!isDict(data)) {
    throw new CoreProblem("bad-body", "Send one JSON object.", { given: data, allowed: "an object with tube.", next: "Send the tube.", status: 400 });
  }
  const problems = [];
  unknownMembers(data, ["tube", "end", "mitre_deg", "gap", "items", "sleeves", "units"], problems);
  collect(problems);
  const asked = get(data, "units");
  const units = asked === null ? null : at("units", () => oneOf("unit system", asked, ["in", "mm"]));
  const tube = at("tube", () => readTube(get(data, "tube"), { defaultUnit: units ?? "in" }));
  const cut = readEndCut(get(data, "end", "pointed"), get(data, "mitre_deg", 60));
  const gap = at("gap", () => Number(upTo(readLength(get(data, "gap", "0 in"), { defaultUnit: units ?? "in", allowZero: true }), sizeInput.WIDEST_GAP)));
  const count = get(data, "sleeves", 1);
  if (!Number.isInteger(count) || count < 1 || count > 20) {
    throw new CoreProblem("bad-count", "That is not a number of sleeves.", {
      given: count, allowed: "a whole number from 1 to 20.", next: "Count the sleeves this job needs.", field: "sleeves",
    });
  }
  const metric = units ? units === "mm" : tube.od.isMetric;
  const row = (sleeve) => {
    const needs = ruleLength(tube.D, sleeve.D, gap, cut) * count;
    return { ...judge(tube, sleeve, metric), needs: quantity(needs, rulerText(needs, metric, "up")) };
  };
  const onHand = itemsOf(data).map((item, place) => at(`items.${place}`, () => stocked(item, row, tube, metric)));
  const couldBuy = usualSizes(tube).map(row);
  return {
    on_hand: inOrder(onHand.filter(Boolean)),
    could_buy: inOrder(couldBuy.filter((entry) => entry.standing !== "does not fit")).slice(0, 8),
    note: nothingUsual(tube, couldBuy),
    deference: DEFERENCE,
  };
}

// What `reader` gives, its problems told at `field`.
function at(field, reader) {
  try {
    return reader();
  } catch (problem) {
    if (problem instanceof CoreProblem) for (const one of [problem, ...problem.others]) one.at(field);
    throw problem;
  }
}

export function judge(tube, sleeve, metric = false) {
  const checks = fitChecks(tube, sleeve, metric);
  const missed = checks.filter((one) => one.verdict === "not met");
  const unknown = checks.filter((one) => one.verdict === "unknown");
  const standing = missed.some((one) => one.id.startsWith("clearance")) ? "does not fit"
    : missed.length ? "ask the inspector" : unknown.length ? "measure first" : "fits";
  const fit = clearance(tube, sleeve);
  return {
    size: sizeText(sleeve), od: sleeve.od.typed, wall: sleeve.wall.typed, material: sleeve.material.key,
    material_name: sleeve.material.name, seam: sleeve.seam, standing, why: (missed[0] ?? unknown[0] ?? checks[0]).text,
    clearance: {
      nominal: quantity(fit.nominal, fineText(fit.nominal, metric)),
      lowest: quantity(fit.lowest, fineText(fit.lowest, metric, "down")),
      highest: quantity(fit.highest, fineText(fit.highest, metric, "up")),
    },
    area_in2: sleeve.area, tube_area_in2: tube.area, checks,
  };
}

// A usual size as a person would type it.
export const usualTube = (od, thousandths, steel) =>
  new Tube(new Length(od, inchFractionText(od), "in"),
    new Length(frac(thousandths, 1000), `.${String(thousandths).padStart(3, "0")} in`, "in"), steel);

// The usual tube sizes up to 5/8 in over the tube, in the tube's class of steel.
export function usualSizes(tube) {
  const chromoly = tube.material.steel_class === "4130";
  const steel = MATERIALS[chromoly ? tube.material.key : "dom-1020"];
  const walls = chromoly ? T.CHROMOLY_WALLS : [...T.DOM_WALLS, 109, 165];
  const base = tube.od.inches.mul(8).floor();
  const sizes = [];
  for (const step of T.STEPS) {
    const od = frac(base + BigInt(step), 8);
    if (od.lt(1) || od.gt(frac(5, 2)) || od.le(tube.od.inches)) continue;
    for (const thousandths of walls) if (frac(2 * thousandths, 1000).lt(od)) sizes.push(usualTube(od, thousandths, steel));
  }
  return sizes;
}

function itemsOf(data) {
  const items = get(data, "items", []);
  if (Array.isArray(items) && items.length <= 2000) return items;
  throw new CoreProblem("bad-items", "The stock must be a list.", { given: items, allowed: "up to 2000 rows.", next: "Send the stock table.", field: "items" });
}

// One stock row judged, null if it is not larger than the tube (no sleeve at all).
function stocked(item, row, tube, metric) {
  if (!isDict(item)) {
    throw new CoreProblem("bad-items", "A stock row must be an object.", {
      given: item, allowed: "an object with od, wall, material, on_hand.", next: "Send the stock table as it was read.",
    });
  }
  const sleeve = readTube(Object.fromEntries(["od", "wall", "material", "seam"].map((name) => [name, get(item, name)])));
  const onHand = Number(at("on_hand", () => readLength(get(item, "on_hand"), { allowZero: true })));
  if (nominalClearance(tube, sleeve).lt(frac(-1, 16)) || sleeve.od.inches.le(tube.od.inches)) return null;
  const entry = row(sleeve);
  const enough = onHand >= entry.needs.in - 1e-9;
  if (!enough && entry.standing !== "does not fit") {
    entry.why = `Too short: ${rulerText(onHand, metric, "down")} on hand, needs ${entry.needs.text}.`;
  }
  const known = Object.fromEntries(KEPT.filter((name) => truthy(get(item, name))).map((name) => [name, item[name]]));
  return { ...entry, ...known, enough, on_hand: quantity(onHand, rulerText(onHand, metric, "down")) };
}

// Best first: long enough, standing, certificate known, closest fit, least metal left over.
const key = (entry) => [
  !(entry.enough ?? true), T.STANDING_ORDER[entry.standing], !(truthy(entry.heat_number) || truthy(entry.certificate)),
  roundPlaces(entry.clearance.nominal.in, 4), entry.area_in2, entry.on_hand?.in ?? 0,
];

const inOrder = (entries) => entries.map((entry) => [key(entry), entry]).sort((a, b) => compareKeys(a[0], b[0])).map(([, entry]) => entry);

// The story of a tube that no common sleeve step fits by the letter (as .134 wall).
function nothingUsual(tube, bought) {
  const clean = new Map(bought
    .filter((entry) => entry.clearance.nominal.in > 0 && entry.checks.every((one) => one.verdict !== "not met"))
    .map((entry) => [entry.size, entry]));
  const close = ({ od }) => readLength(od).inches.sub(tube.od.inches).le(frac(1, 4));
  if ([...clean.values()].some(close) || tube.od.isMetric) return "";
  const thinner = bought.filter((entry) => entry.standing === "ask the inspector" && entry.area_in2 >= entry.tube_area_in2);
  let text = `No usual sleeve up to 1/4 in over this tube has both wall ${tube.wall.typed} or more and clearance 0 to 1/16 in.`;
  if (clean.size) text += ` By the letter: ${[...clean.keys()].slice(0, 2).join(", ")}.`;
  if (thinner.length) {
    const best = least(thinner, (entry) => [entry.clearance.nominal.in]);
    text += ` Shops use ${best.size} (common practice, no source): less wall, yet more area, ${fixed(best.area_in2, 3)} in² against ` +
      `${fixed(best.tube_area_in2, 3)} in². The literal wall rule is not met: ask for the inspector's agreement.`;
  }
  return text;
}
