// Mirrors core/checklists/wording.py: what the plan puts into the wording, sizes as text, limits exact.

import { Fraction, frac } from "./fraction.js";
import { nextThicker } from "./lengths.js";
import { CoreProblem, attempt, collect } from "./problems.js";
import { isDict, isNumber, isText, length, own, truthy, words as split } from "./python.js";
import { fineText, rulerText } from "./quantity.js";
import { wording as T } from "./tables.js";
import { oneOf, unknownMembers } from "./tube.js";

const { AS_SIZED } = T;
const PREHEAT_WALL = Fraction.of(T.PREHEAT_WALL);
const QUARTER_TURN = Fraction.of(Math.PI / 4);

// One text for each placeholder, and the figures for the limits, null where unknown.
export function readContext(context) {
  const problems = [];
  if (!isDict(context)) {
    throw new CoreProblem("bad-context", "The plan's sizes must be an object.", {
      given: context, allowed: 'an object such as {"od": 1.625}.', next: "Give the sizes by name.",
    });
  }
  unknownMembers(context, [...T.TEXTS, ...T.FIGURES, ...Object.keys(T.WORDS), "sleeves", "metric"], problems);
  const given = Object.fromEntries(Object.entries(context).filter(([, value]) => value !== null && value !== undefined));
  const words = Object.fromEntries(T.TEXTS.map((name) => [name, readText(name, given[name] ?? AS_SIZED, problems)]));
  const figures = Object.fromEntries(T.FIGURES.map((name) => [name, own(given, name) ? readFigure(name, given[name], problems) : null]));
  for (const [name, allowed] of Object.entries(T.WORDS)) {
    attempt(() => oneOf(name.replaceAll("_", " "), given[name] ?? allowed[0], allowed), (problem) => problems.push(problem.at(name)));
  }
  if (![1, 2, true].includes(given.sleeves ?? 2)) {
    problems.push(new CoreProblem("bad-choice", "A splice here has one sleeve or two.", {
      given: given.sleeves, allowed: "1 or 2.", next: "Give 1 or 2.", field: "sleeves",
    }));
  }
  collect(problems);
  const { od, wall } = figures;
  const factors = { overlap: frac(3, 2), tenth_od: frac(1, 10), short_stub: frac(5, 2), long_stub: frac(9, 2), quarter_round: QUARTER_TURN };
  for (const [name, factor] of Object.entries(factors)) figures[name] = od && od.mul(factor);
  if (!figures.patch_wall && wall) figures.patch_wall = nextThicker(Number(wall));
  const metric = truthy(given.metric ?? false);
  const said = (name, text) => (figures[name] ? text(Number(figures[name])) : AS_SIZED);
  for (const name of ["overlap", "rule_length", "short_stub", "long_stub"]) words[name] = said(name, (x) => rulerText(x, metric, "up"));
  for (const name of ["tenth_od", "quarter_round", "od"]) words[name] = said(name, (x) => fineText(x, metric, "down"));
  words.end_shape = given.end_shape ?? AS_SIZED;
  words.shade = own(given, "process") ? T.SHADES[given.process] : "TIG 8, MIG 10, stick 10 at least; see the caution";
  words.preheat = preheat(given.material_class, wall);
  return [words, figures];
}

function preheat(steel, wall) {
  if (steel === "low-carbon") return "Check the tube: dry, 60 °F (16 °C) or warmer, out of the wind.";
  if (steel === "4130" && wall) {
    return wall.lt(PREHEAT_WALL) ? T.NO_PREHEAT : "4130, .120 in wall or more: ask the qualified welder about a 300 to 400 °F preheat.";
  }
  return "4130 or not known: no preheat under .120 in wall; tube dry, 60 to 70 °F or warmer.";
}

function readText(name, value, problems) {
  const text = isText(value) ? split(value).join(" ") : "";
  if (text && length(text) <= T.LONGEST_WORDS) return text;
  problems.push(new CoreProblem("bad-text", "That wording for the checklist cannot be used.", {
    given: value, allowed: `text of 1 to ${T.LONGEST_WORDS} characters.`, next: "Shorten it or leave it out.", field: name,
  }));
  return AS_SIZED;
}

function readFigure(name, value, problems) {
  // A double such as 1.625 or 2.4 stands for a short decimal; its last bits must not move a limit.
  if (isNumber(value) && value > 0 && value <= T.LARGEST_INCHES) return Fraction.of(value).limitDenominator(10 ** 6);
  problems.push(new CoreProblem("out-of-range", "That length for the checklist cannot be used.", {
    given: value, allowed: `a number of inches over 0, up to ${T.LARGEST_INCHES}.`, next: "Give inches as a number.", field: name,
  }));
  return null;
}
