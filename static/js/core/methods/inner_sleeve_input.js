// Mirrors core/methods/inner_sleeve_input.py: reads one inner sleeve job.

import { Length } from "../lengths.js";
import { CoreProblem, collect } from "../problems.js";
import { fixed, get } from "../python.js";
import { thousandthsText } from "../quantity.js";
import { openJob } from "../size_input.js";
import { innerSleeveInput as T, sizeInput } from "../tables.js";
import { Tube } from "../tube.js";
import { MM } from "../units.js";

export function readInnerJob(data) {
  const reader = openJob(data, T.MEMBERS, `for example ${T.EXAMPLE}`, "Send tube and sleeve.");
  const { problems, unit } = reader;
  const tube = reader.tube("tube");
  const bought = reader.tube("sleeve");
  const spare = get(data, "replacement") === null ? null : reader.tube("replacement");
  const cut = reader.endCut("scarf", get(data, "mitre_deg") ?? T.DEFAULT_MITRE);
  const gap = reader.length("gap", get(data, "gap") ?? T.DEFAULT_GAP, unit, sizeInput.WIDEST_GAP, true);
  const length = reader.optional("length", unit, sizeInput.LONGEST_SLEEVE, false);
  const bead = reader.optional("bead", unit, T.TALLEST_BEAD, false);
  const turned = reader.optional("turned_od", unit, T.LARGEST_TURNED, false);
  const refuse = (kind, title, given, allowed, next, field) => problems.push(new CoreProblem(kind, title, { given, allowed, next, field }));
  const asFitted = turned ?? bought?.od;
  if (tube && bought && asFitted.inches.ge(tube.od.inches)) {
    refuse("bad-sleeve", "An inner sleeve must be smaller than the tube.", asFitted.typed, `an outside diameter under ${tube.od.echo()}.`,
      "Choose a smaller sleeve, or check which size is which.", turned ? "turned_od" : "sleeve.od");
  }
  if (turned && bought && !(bought.od.inches.sub(bought.wall.inches.mul(2)).lt(turned.inches) && turned.inches.le(bought.od.inches))) {
    refuse("bad-sleeve", "The sleeve cannot be turned to that diameter.", turned.typed,
      `over the sleeve's bore, and up to its outside diameter ${bought.od.echo()}.`,
      "Give the diameter after turning, not the depth of cut.", "turned_od");
  }
  if (bead && tube && [tube, spare ?? tube].every((part) => ["none", "removed"].includes(part.seam))) {
    refuse("bad-tube", "A bead height is given for a tube said to have no bead.", bead.typed, 'no bead, or a tube whose seam is "bead".',
      "Feel inside the tube, then set the seam or leave the bead out.", "bead");
  }
  collect(problems);
  const metric = reader.isMetric(tube);
  return {
    tube, bought, sleeve: turnedDown(bought, turned, metric), replacement: spare ?? tube, replacementGiven: spare !== null,
    cut, gap, length, bead, turned, metric,
  };
}

// A tube turned down to an outside diameter, its bore as it was.
export function turnedDown(bought, turned, metric) {
  if (!turned) return bought;
  const left = bought.wall.inches.sub(bought.od.inches.sub(turned.inches).div(2));
  return new Tube(turned, exactLength(left, metric), bought.material, bought.seam);
}

// A length worked out here, with a text as a person would type it.
export const exactLength = (inches, metric) =>
  metric ? new Length(inches, `${fixed(Number(inches.mul(MM)), 2)} mm`, "mm") : new Length(inches, `${thousandthsText(inches)} in`, "in");
