// Mirrors core/stock.py: ranks stock for a repair, what is on the rack first, then sizes that could be bought.

import { readLength } from "./lengths.js";
import { CoreProblem, collect } from "./problems.js";
import { compareKeys, get, isDict, roundPlaces, truthy } from "./python.js";
import { quantity, rulerText } from "./quantity.js";
import { DEFERENCE } from "./rules.js";
import { upTo } from "./size_input.js";
import { readEndCut } from "./sleeve.js";
import { INNER } from "./stock_inner.js";
import { LARGER, OUTER, SPLIT } from "./stock_over.js";
import { PATCH } from "./stock_patch.js";
import { Ask, DOES_NOT, STANDING_ORDER } from "./stock_rows.js";
import { oneOf, readTube, unknownMembers } from "./tube.js";

const METHODS = { "outer-sleeve": OUTER, "inner-sleeve": INNER, "larger-tube": LARGER, "split-sleeve": SPLIT, patch: PATCH };
const COULD_BUY = 8;
const KEPT = ["id", "heat_number", "certificate", "location", "note"];

export function candidates(data) {
  if (!isDict(data)) {
    throw new CoreProblem("bad-body", "Send one JSON object.", { given: data, allowed: "an object with tube.", next: "Send the tube.", status: 400 });
  }
  const method = at("method", () => oneOf("repair method", get(data, "method", "outer-sleeve"), Object.keys(METHODS)));
  const way = METHODS[method];
  const problems = [];
  unknownMembers(data, ["tube", "method", "end", "mitre_deg", "items", "sleeves", "units", ...Object.keys(way.lengths)], problems);
  collect(problems);
  const ask = askOf(data, way);
  const row = (stock) => {
    const needs = way.needs(ask, stock);
    return { ...way.row(ask, stock), needs: needs === null ? null : quantity(needs, rulerText(needs, ask.metric, "up")) };
  };
  const isNear = (stock) => way.isNear(ask, stock);
  const onHand = itemsOf(data).map((item, place) => at(`items.${place}`, () => stocked(item, row, isNear, ask.metric)));
  const couldBuy = way.usual(ask).map(row);
  const inOrder = (entries) => entries.map((entry) => [order(entry, way === PATCH), entry])
    .sort((a, b) => compareKeys(a[0], b[0])).map(([, entry]) => entry);
  return {
    ...(way === OUTER ? {} : { method }),
    on_hand: inOrder(onHand.filter(Boolean)),
    could_buy: inOrder(couldBuy.filter((entry) => !cannot(entry))).slice(0, COULD_BUY),
    ...way.extras(ask, couldBuy),
    deference: DEFERENCE,
  };
}

function askOf(data, way) {
  const asked = get(data, "units");
  const units = asked === null ? null : at("units", () => oneOf("unit system", asked, ["in", "mm"]));
  const tube = at("tube", () => readTube(get(data, "tube"), { defaultUnit: units ?? "in" }));
  const cut = readEndCut(way.end ?? get(data, "end", "pointed"), get(data, "mitre_deg", 60));
  const length = (text, [most, allowZero, usual]) =>
    text === null && usual === null ? null : upTo(readLength(text, { defaultUnit: units ?? "in", allowZero }), most);
  const lengths = Object.fromEntries(Object.entries(way.lengths).map(([name, one]) => [name, at(name, () => length(get(data, name, one[2]), one))]));
  const count = get(data, "sleeves", way.pieces);
  if (!Number.isInteger(count) || count < 1 || count > 20) {
    throw new CoreProblem("bad-count", "That is not a number of sleeves.", {
      given: count, allowed: "a whole number from 1 to 20.", next: "Count the sleeves this job needs.", field: "sleeves",
    });
  }
  return new Ask(tube, cut, lengths, count, units ? units === "mm" : tube.od.isMetric);
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

function itemsOf(data) {
  const items = get(data, "items", []);
  if (Array.isArray(items) && items.length <= 2000) return items;
  throw new CoreProblem("bad-items", "The stock must be a list.", { given: items, allowed: "up to 2000 rows.", next: "Send the stock table.", field: "items" });
}

// One stock row judged, null if its size is nowhere near.
function stocked(item, row, isNear, metric) {
  if (!isDict(item)) {
    throw new CoreProblem("bad-items", "A stock row must be an object.", {
      given: item, allowed: "an object with od, wall, material, on_hand.", next: "Send the stock table as it was read.",
    });
  }
  const stock = readTube(Object.fromEntries(["od", "wall", "material", "seam"].map((name) => [name, get(item, name)])));
  const onHand = Number(at("on_hand", () => readLength(get(item, "on_hand"), { allowZero: true })));
  if (!isNear(stock)) return null;
  const entry = row(stock);
  const enough = entry.needs ? onHand >= entry.needs.in - 1e-9 : onHand > 0;
  if (!enough && entry.standing !== DOES_NOT) {
    const least = entry.needs ? `needs ${entry.needs.text}` : "nothing left to cut";
    entry.why = `Too short: ${rulerText(onHand, metric, "down")} on hand, ${least}.`;
  }
  const known = Object.fromEntries(KEPT.filter((name) => truthy(get(item, name))).map((name) => [name, item[name]]));
  return { ...entry, ...known, enough, on_hand: quantity(onHand, rulerText(onHand, metric, "down")) };
}

// Whether the size itself rules a tube out; a bead that can be taken out does not.
const cannot = (entry) => entry.checks.some((one) => one.id.startsWith("clearance") && one.verdict === "not met");

// Best first: long enough, standing, certificate known, closest fit, least metal left over.
function order(entry, formed) {
  const room = roundPlaces(entry.clearance.nominal.in, 4);
  return [
    !(entry.enough ?? true), STANDING_ORDER[entry.standing], !(truthy(entry.heat_number) || truthy(entry.certificate)),
    formed ? Math.abs(room) : room, entry.area_in2, entry.on_hand?.in ?? 0,
  ];
}
