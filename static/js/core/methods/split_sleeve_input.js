// Mirrors core/methods/split_sleeve_input.py: reads one split-sleeve job.

import { collect } from "../problems.js";
import { get } from "../python.js";
import { openJob, refuseSmallSleeve, sizeJob } from "../size_input.js";
import { assessInput, sizeInput, splitSleeveInput as T } from "../tables.js";
import { oneOf } from "../tube.js";

export function readSplitJob(data) {
  const reader = openJob(data, T.MEMBERS, `for example ${T.EXAMPLE}`, "Send tube, sleeve, damage, damage_length, end and mitre_deg.");
  const { problems, unit } = reader;
  const tube = reader.tube("tube");
  const sleeve = reader.tube("sleeve");
  const damage = reader.read("damage", (v) => oneOf("kind of damage", v, assessInput.DAMAGE_KINDS));
  const gap = reader.length("damage_length", get(data, "damage_length"), unit, T.LONGEST_DAMAGE, false);
  const end = reader.read("end", (v) => oneOf("end shape", v, T.ENDS));
  const cut = end === null ? null : reader.endCut(end, get(data, "mitre_deg"));
  const length = reader.optional("length", unit, sizeInput.LONGEST_SLEEVE, false);
  const kerf = reader.optional("kerf", unit, sizeInput.WIDEST_KERF, true);
  refuseSmallSleeve(tube, sleeve, problems);
  collect(problems);
  return { sized: sizeJob({ tube, sleeve, cut, gap, length, kerf, metric: reader.isMetric(tube) }), damage };
}
