// Mirrors core/rules.py: the clauses as data, and one rule applied.

import { rules } from "./tables.js";

export const { CLAUSES, DEFERENCE, PRACTICE } = rules;

export const label = (key) => CLAUSES[key].label;

// The rows listed under `sources`.
export const sources = (...keys) =>
  keys.map((key) => {
    const { label: _, ...row } = CLAUSES[key];
    return row;
  });

// The word for an outcome: true met, false not met, null unknown.
export const verdict = (outcome) => (outcome === null ? "unknown" : outcome ? "met" : "not met");

// One rule applied, in its JSON form; `outcome` is true, false or null.
export const check = (id, clause, given, limit, outcome, text) => ({ id, clause, given, limit, verdict: verdict(outcome), text });

// The text for an outcome.
export const pick = (outcome, met, notMet, unknown) => (outcome === null ? unknown : outcome ? met : notMet);
