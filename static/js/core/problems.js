// Mirrors core/problems.py: errors a person can act on, with the members of problem+json.

import { length, isText, repr, slice } from "./python.js";

export class CoreProblem extends Error {
  constructor(kind, title, { given = "", allowed = "", next = "", field = "", status = 422, others = [] } = {}) {
    super(title);
    this.name = "CoreProblem";
    Object.assign(this, { kind, title, given: shorten(given), allowed, next, field, status, others });
  }

  get type() {
    return `urn:pitsplice:problem:${this.kind}`;
  }

  // The same problem, told about the input at `field`.
  at(field) {
    this.field = this.field ? `${field}.${this.field}` : field;
    return this;
  }

  asDict() {
    const { type, title, status, given, allowed, next } = this;
    return {
      type, title, status, given, allowed, next,
      ...(this.field ? { field: this.field } : {}),
      ...(this.others.length ? { others: this.others.map((other) => other.asDict()) } : {}),
    };
  }

  toJSON() {
    return this.asDict();
  }
}

export function shorten(given, limit = 120) {
  const text = isText(given) ? given : repr(given);
  return length(text) <= limit ? text : `${slice(text, 0, limit - 1)}…`;
}

// Throw the first of `problems`, carrying the others; do nothing if there are none.
export function collect(problems) {
  if (!problems.length) return;
  const [first, ...others] = problems;
  first.others = others;
  throw first;
}

// What `reader` gives, null after keeping the problem it throws with `keep`.
export function attempt(reader, keep) {
  try {
    return reader();
  } catch (problem) {
    if (!(problem instanceof CoreProblem)) throw problem;
    keep(problem);
    return null;
  }
}

// What `reader` gives; its problem is told at `field`.
export function told(field, reader) {
  try {
    return reader();
  } catch (problem) {
    throw problem instanceof CoreProblem ? problem.at(field) : problem;
  }
}
