// Mirrors core/methods/larger_tube_input.py: reads one larger-tube job.

import { CoreProblem, collect } from "../problems.js";
import { get } from "../python.js";
import { openJob } from "../size_input.js";
import { largerTubeInput as T, sizeInput } from "../tables.js";

export function readLargerJob(data) {
  const reader = openJob(data, T.MEMBERS, `for example ${T.EXAMPLE}`, "Send tube, sleeve, end and opening.");
  const { problems, unit } = reader;
  const tube = reader.tube("tube");
  const sleeve = reader.tube("sleeve");
  const cut = reader.endCut(get(data, "end"), get(data, "mitre_deg") ?? 60);
  const opening = reader.length("opening", get(data, "opening"), unit, T.WIDEST_OPENING, true);
  const stubShort = reader.optional("stub_short", unit, T.LONGEST_STUB, false);
  const stubLong = reader.optional("stub_long", unit, T.LONGEST_STUB, false);
  const length = reader.optional("length", unit, sizeInput.LONGEST_SLEEVE, false);
  if (tube && sleeve && sleeve.od.inches.le(tube.od.inches)) {
    problems.push(new CoreProblem("bad-sleeve", "The replacement must be larger than the tube.", {
      given: sleeve.od.typed, allowed: `an outside diameter over ${tube.od.echo()}.`,
      next: "Choose a larger tube, or check which size is which.", field: "sleeve.od",
    }));
  }
  if (stubShort && stubLong && stubShort.inches.gt(stubLong.inches)) {
    problems.push(new CoreProblem("out-of-range", "The short stub is longer than the long stub.", {
      given: stubShort.typed, allowed: `up to the long stub, ${stubLong.echo()}.`,
      next: "Swap the two, or measure them again.", field: "stub_short",
    }));
  }
  collect(problems);
  return { tube, sleeve, cut, opening, stubShort, stubLong, length, metric: reader.isMetric(tube), g: Number(opening) };
}
