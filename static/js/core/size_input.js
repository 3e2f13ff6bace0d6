// Mirrors core/size_input.py: reads one sizing job, every problem kept under its field name.

import { readLength } from "./lengths.js";
import { CoreProblem, attempt, collect } from "./problems.js";
import { general, get, isDict } from "./python.js";
import { readEndCut } from "./sleeve.js";
import { sizeInput as T } from "./tables.js";
import { oneOf, readTube, unknownMembers } from "./tube.js";

export function readSizeJob(data) {
  const reader = openJob(data, T.MEMBERS, `for example ${T.EXAMPLE}`, "Send tube, sleeve, end, mitre_deg and gap.");
  const { problems, unit } = reader;
  const job = {
    tube: reader.tube("tube"),
    sleeve: reader.tube("sleeve"),
    cut: reader.endCut(get(data, "end"), get(data, "mitre_deg")),
    gap: reader.length("gap", get(data, "gap", `0 ${unit}`), unit, T.WIDEST_GAP, true),
    length: reader.optional("length", unit, T.LONGEST_SLEEVE, false),
    trim: reader.optional("trim", unit, T.LONGEST_TRIM, true),
    kerf: reader.optional("kerf", unit, T.WIDEST_KERF, true),
    opening: reader.optional("opening", unit, T.LONGEST_OPENING, false),
    replacement: reader.optional("replacement", unit, T.LONGEST_OPENING, false),
  };
  refuseSmallSleeve(job.tube, job.sleeve, problems);
  collect(problems);
  return sizeJob({ ...job, metric: reader.isMetric(job.tube) });
}

// A job with its short names: g, D, Ds in inches.
export const sizeJob = (job) => ({
  trim: null, opening: null, replacement: null, ...job, g: Number(job.gap), D: job.tube.D, Ds: job.sleeve.D,
});

export function refuseSmallSleeve(tube, sleeve, problems) {
  if (!tube || !sleeve || sleeve.od.inches.gt(tube.od.inches)) return;
  problems.push(new CoreProblem("bad-sleeve", "An outer sleeve must be larger than the tube.", {
    given: sleeve.od.typed, allowed: `an outside diameter over ${tube.od.echo()}.`,
    next: "Choose a larger sleeve, or check which size is which.", field: "sleeve.od",
  }));
}

export function openJob(data, members, allowed, send, what = "job") {
  if (!isDict(data)) {
    throw new CoreProblem("bad-body", `The ${what} must be one JSON object.`, { given: data, allowed, next: send, status: 400 });
  }
  const problems = [];
  unknownMembers(data, members, problems);
  return new Reader(data, problems);
}

export class Reader {
  #units;

  constructor(data, problems) {
    Object.assign(this, { data, problems });
  }

  // Read once, so that its problem is kept once.
  get units() {
    if (this.#units === undefined) {
      this.#units = this.read("units", (v) => (v === null ? null : oneOf("unit system", v, ["in", "mm"])));
    }
    return this.#units;
  }

  get unit() {
    return this.units ?? "in";
  }

  isMetric(tube) {
    return this.units ? this.units === "mm" : tube.od.isMetric;
  }

  tube(field) {
    return this.read(field, (v) => readTube(v, { defaultUnit: this.unit }));
  }

  endCut(end, mitreDeg) {
    return attempt(() => readEndCut(end, mitreDeg), (problem) => this.problems.push(problem));
  }

  read(field, reader) {
    return attempt(() => reader(get(this.data, field)), (problem) => {
      for (const one of [problem, ...problem.others]) this.problems.push(one.at(field));
      problem.others = [];
    });
  }

  length(field, text, defaultUnit, most, allowZero) {
    return this.read(field, () => upTo(readLength(text, { defaultUnit, allowZero }), most));
  }

  optional(field, unit, most, allowZero) {
    const text = get(this.data, field);
    return text === null ? null : this.length(field, text, unit, most, allowZero);
  }
}

// The length, unless it is more than `most` inches.
export function upTo(value, most) {
  if (Number(value) <= most) return value;
  throw new CoreProblem("out-of-range", "That length is more than this handles.", {
    given: value.typed, allowed: `up to ${general(most)} in (${general(most * 25.4)} mm).`, next: "Check the number and its unit.",
  });
}
