// Mirrors core/checklists/model.py: the parts of a checklist and their JSON form.

import { Fraction, floorDiv, frac } from "./fraction.js";
import { general } from "./python.js";
import { fineText, inchFractionText } from "./quantity.js";

// A point where work waits for a number; `limit` and `high` are fractions or null.
export class Hold {
  constructor({ unit, limit_kind, limit, ask, high, role }) {
    Object.assign(this, { unit, limitKind: limit_kind, limit, ask, high, role });
  }

  get hasLimit() {
    return this.limitKind !== "record" && this.limit !== null;
  }

  metBy(value) {
    if (!this.hasLimit) return true;
    if (this.limitKind === "at most") return value.le(this.limit);
    if (this.limitKind === "at least") return value.ge(this.limit);
    return value.ge(this.limit) && value.le(this.high);
  }

  // An upper limit rounds down, a lower one up.
  limitText() {
    if (!this.hasLimit) return "any reading; no limit in this plan";
    if (this.limitKind === "between") return `${this.#one(this.limit, "up")} to ${this.#one(this.high, "down")}`;
    return `${this.limitKind} ${this.#one(this.limit, this.limitKind === "at most" ? "down" : "up")}`;
  }

  #one(limit, way) {
    if (this.unit === "s") return secondsText(limit);
    const inches = inchFractionText(limit) || fineText(Number(limit), false, way);
    return `${inches} (${fineText(Number(limit), true, way)})`;
  }

  asDict() {
    const said = (value) => (value === null ? null : String(value));
    return {
      unit: this.unit, limit_kind: this.limitKind, limit: said(this.limit), ask: this.ask, high: said(this.high), role: this.role,
      limit_text: this.limitText(),
    };
  }
}

// A READ-DO checklist: read a line, do it, mark it.
export class Checklist {
  constructor({ key, method, version, title, groups }) {
    Object.assign(this, { key, method, version, title, groups });
    this.steps = groups.flatMap((group) => group.steps);
    // By step key: the step, its group, and how many steps must be done or skipped before it.
    this.places = new Map();
    for (const group of groups) {
      const start = this.places.size;
      group.steps.forEach((step, offset) => this.places.set(step.key, [step, group, group.any_order ? start : start + offset]));
    }
  }

  toDict() {
    const { key, method, version, title } = this;
    const step = (one) => ({ ...one, hold: one.hold && one.hold.asDict() });
    const groups = this.groups.map((group) => ({ ...group, steps: group.steps.map(step) }));
    return { key, method, version, title, groups };
  }
}

// The checklist a job or a record keeps (`toDict`, GET .../checklist), with its wording as it was.
export function checklistFromDict(body) {
  const limit = (text) => (text === null ? null : Fraction.of(text));
  const step = (raw) => ({ ...raw, hold: raw.hold && new Hold({ ...raw.hold, limit: limit(raw.hold.limit), high: limit(raw.hold.high) }) });
  return new Checklist({ ...body, groups: body.groups.map((group) => ({ ...group, steps: group.steps.map(step) })) });
}

export function secondsText(seconds) {
  const whole = Fraction.of(seconds);
  const minutes = floorDiv(whole.n, whole.d * 60n);
  const rest = whole.sub(frac(minutes).mul(60));
  return [...(minutes ? [`${minutes} min`] : []), ...(rest.n || !minutes ? [`${general(Number(rest))} s`] : [])].join(" ");
}
