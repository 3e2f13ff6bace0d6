// Mirrors core/methods/parts.py: what is sawn, drilled and slid together in one repair, the same few facts from every job.

import { clearance } from "../fit.js";
import { quantity, rulerText } from "../quantity.js";
import { readSizeJob } from "../size_input.js";
import { ruleLength } from "../sleeve.js";
import { blank } from "./common.js";
import { innerClearance, innerOverlap, madeLength as innerMade } from "./inner_sleeve.js";
import { readInnerJob } from "./inner_sleeve_input.js";
import { readLargerJob } from "./larger_tube_input.js";
import { madeLength } from "./outer_sleeve.js";
import { readSplitJob } from "./split_sleeve_input.js";

// The sleeve's length as a quantity; what the welder calls the part; how a sleeve over the tube is placed.
const withBlank = (parts) => ({
  reach: 0, bead: 0, kerf: null, damage: "", ...parts,
  blank: quantity(parts.made, parts.typed ?? rulerText(parts.made, parts.metric, "up")),
  part: parts.method === "larger-tube" ? "new tube" : "sleeve",
});

const over = (method, job, made, more = {}) => withBlank({
  method, tube: job.tube, sleeve: job.sleeve, outer: job.sleeve, inner: job.tube, cut: job.cut,
  worst: clearance(job.tube, job.sleeve), made, typed: job.length?.typed ?? null, gap: job.g, metric: job.metric, ...more,
});

const READERS = {
  "outer-sleeve"(data) {
    const job = readSizeJob(data);
    return over("outer-sleeve", job, madeLength(job));
  },
  "larger-tube"(data) {
    const job = readLargerJob(data);
    return over("larger-tube", job, job.length ? Number(job.length) : blank(ruleLength(job.tube.D, job.sleeve.D, job.g, job.cut), job.metric));
  },
  "split-sleeve"(data) {
    const { sized, damage } = readSplitJob(data);
    return over("split-sleeve", sized, madeLength(sized), { kerf: sized.kerf ? Number(sized.kerf) : null, damage });
  },
  "inner-sleeve"(data) {
    const job = readInnerJob(data);
    const { tube, sleeve, cut, metric } = job;
    const [made, gap] = [innerMade(job), Number(job.gap)];
    return withBlank({
      method: "inner-sleeve", tube, sleeve, outer: tube, inner: sleeve, cut, worst: innerClearance(job, tube), made,
      typed: job.length?.typed ?? null, gap, metric, reach: innerOverlap(made, tube.D, gap, cut), bead: Number(job.bead ?? 0),
    });
  },
};

// The parts of a splice, null for a patch.
export const readParts = (method, data) => READERS[method]?.(data) ?? null;
