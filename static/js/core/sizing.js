// Mirrors core/sizing.py: sizes a repair by any method. Strength, drawing and template are not
// mirrored: they come from the laptop.

import * as innerSleeve from "./methods/inner_sleeve.js";
import * as largerTube from "./methods/larger_tube.js";
import * as outerSleeve from "./methods/outer_sleeve.js";
import * as patch from "./methods/patch.js";
import * as splitSleeve from "./methods/split_sleeve.js";
import { CoreProblem, told } from "./problems.js";
import { get, isDict } from "./python.js";
import { sizing } from "./tables.js";
import { oneOf } from "./tube.js";

const MODULES = {
  "outer-sleeve": outerSleeve, "inner-sleeve": innerSleeve, "larger-tube": largerTube, "split-sleeve": splitSleeve, patch,
};

export function size(data) {
  const [module, rest] = methodOf(data);
  return module.size(rest);
}

// The tag's essentials and the checklist's figures: `tag` and `context`.
export function summary(data) {
  const [module, rest] = methodOf(data);
  return module.summary(rest);
}

function methodOf(data) {
  if (!isDict(data)) {
    throw new CoreProblem("bad-body", "The job must be one JSON object.", {
      given: data, allowed: "an object with tube, sleeve and end.", next: "Send tube, sleeve, end, mitre_deg and gap.", status: 400,
    });
  }
  const name = told("method", () => oneOf("repair method", get(data, "method", "outer-sleeve"), sizing.METHODS));
  const { method: _, strength: __, ...rest } = data;
  return [MODULES[name], rest];
}
