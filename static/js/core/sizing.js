// Mirrors core/sizing.py: sizes a repair by any method. What is not mirrored comes from the laptop and
// is named in `not_computed`: strength, the drawing, the member's own rules.

import { card } from "./card.js";
import { fitBlock, fitOf } from "./fit_block.js";
import { holePlan, rosetteCheck, searchBlock } from "./hole_plan.js";
import { ranked } from "./methods/common.js";
import * as innerSleeve from "./methods/inner_sleeve.js";
import * as largerTube from "./methods/larger_tube.js";
import * as outerSleeve from "./methods/outer_sleeve.js";
import { readParts } from "./methods/parts.js";
import * as patch from "./methods/patch.js";
import * as splitSleeve from "./methods/split_sleeve.js";
import { CoreProblem, attempt, collect, told } from "./problems.js";
import { get, isDict, own, truthy } from "./python.js";
import { fineText } from "./quantity.js";
import { NAMES, readOptions } from "./size_options.js";
import { sizing } from "./tables.js";
import { oneOf } from "./tube.js";

const MODULES = {
  "outer-sleeve": outerSleeve, "inner-sleeve": innerSleeve, "larger-tube": largerTube, "split-sleeve": splitSleeve, patch,
};

export function size(data) {
  const { name, rest, asked } = read(data);
  const problems = [];
  // A person sees all of them at once.
  const keep = (problem) => {
    problems.push(problem, ...problem.others);
    problem.others = [];
  };
  const options = attempt(() => readOptions(name, asked), keep);
  const sized = attempt(() => MODULES[name].size(rest), keep);
  for (const problem of problems) {
    if (problem.kind !== "unknown-member" || !own(rest, problem.field)) continue;
    const known = problem.allowed.replace(/\.$/, "").split(", ");
    problem.allowed = `${[...new Set([...known, ...NAMES])].sort().join(", ")}.`;
  }
  collect(problems);
  const parts = readParts(name, rest);
  return { ...(parts ? withParts(sized, parts, options) : sized), not_computed: notComputed(name, asked) };
}

const notComputed = (name, asked) => [
  ...(sizing.SPLICES.includes(name) ? ["strength"] : []),
  ...(name === "outer-sleeve" ? ["drawing"] : []),
  ...(truthy(get(asked, "member")) ? ["member"] : []),
];

// The fit side by side, the holes asked for and the card beside what the method worked out.
function withParts(sized, parts, options) {
  const fit = options.measured ? fitOf(parts, options.measured) : null;
  const plan = holePlan(parts, options);
  const made = { ...sized, fit: fitBlock(parts, fit), card: card(parts, options, plan) };
  const more = fit ? [fit.check()] : [];
  if (plan?.placement) {
    made.rosette = { ...sized.rosette, search: searchBlock(parts, plan) };
    more.push(rosetteCheck(parts, plan));
  }
  if (sized.saw) made.saw = { ...sized.saw, note: made.card.saw.short };
  return {
    ...made,
    checks: [...sized.checks, ...more],
    warnings: [...sized.warnings, ...ranked(more, [])].sort((a, b) => a.rank - b.rank),
  };
}

// The tag's essentials and the checklist's figures: `tag` and `context`.
export function summary(data) {
  const { name, rest, asked } = read(data);
  const made = MODULES[name].summary(rest);
  if (own(made.context, "hole_diameter") && (truthy(get(asked, "rosettes")) || truthy(get(asked, "hole")))) {
    made.context.hole_diameter = holeText(readParts(name, rest), readOptions(name, asked));
  }
  return made;
}

// The diameter the checklist asks for: the one on the card.
function holeText(parts, options) {
  const { hole } = holePlan(parts, options);
  if (hole.key === "own") return options.rosettes.diameter.typed;
  return parts.metric ? fineText(Number(hole.diameter), true) : `${hole.diameter} in`;
}

// The method's name, what it reads itself, and what may stand beside it.
function read(data) {
  if (!isDict(data)) {
    throw new CoreProblem("bad-body", "The job must be one JSON object.", {
      given: data, allowed: "an object with tube, sleeve and end.", next: "Send tube, sleeve, end, mitre_deg and gap.", status: 400,
    });
  }
  const name = told("method", () => oneOf("repair method", get(data, "method", "outer-sleeve"), sizing.METHODS));
  const [rest, asked] = [true, false].map((isOwn) => Object.fromEntries(Object.entries(data).filter(([key]) => NAMES.includes(key) !== isOwn)));
  return { name, rest, asked: { ...asked, units: get(rest, "units") } };
}
