// Mirrors core/fit_measured.py: what this tube and this sleeve leave between them, as measured.

import { LARGEST_CLEARANCE, limitText } from "./fit.js";
import { readLength } from "./lengths.js";
import { CoreProblem, collect } from "./problems.js";
import { fixed, get, truthy } from "./python.js";
import { down, fineText, near, up } from "./quantity.js";
import { DEFERENCE, check, label, pick, sources } from "./rules.js";
import { openJob } from "./size_input.js";
import { fitMeasured as T, tube as limits } from "./tables.js";
import { inchesRange } from "./tube.js";

export const { ENOUGH_READINGS, MOST_POLISHED, SLIDES } = T;
export const LIMIT = Number(LARGEST_CLEARANCE);
export const ROUNDING = 1e-9;

const line = (label_, value, note) => ({ label: label_, value, note });
export const ods = (measured) => measured.tubeOd.map(Number);

// As measured, else sleeve OD - 2 wall; inches.
export const bores = ({ sleeveBore, sleeveOd, sleeveWall }) =>
  sleeveBore.length ? sleeveBore.map(Number) : sleeveOd.map((od) => Number(od) - 2 * Number(sleeveWall));

// Measured clearance on the diameter, inches; `measured.tube` is the inner part, `measured.sleeve` the outer.
export class MeasuredFit {
  constructor(measured) {
    const [outside, inside, bead] = [ods(measured), bores(measured), Number(measured.bead)];
    Object.assign(this, { measured, bead, metric: measured.metric });
    this.least = Math.min(...inside) - bead - Math.max(...outside);
    this.greatest = Math.max(...inside) - Math.min(...outside);
    this.tubeOvality = Math.max(...outside) - Math.min(...outside);
    this.boreOvality = Math.max(...inside) - Math.min(...inside);
  }

  get rule() {
    return "outer-sleeve";
  }

  // True inside the limit at every pair of readings, false outside at every pair, else null.
  get outcome() {
    const { bead, greatest, least } = this;
    if (least >= -ROUNDING && greatest <= LIMIT + ROUNDING) return true;
    // The last: a bead that keeps the tube out however it is turned.
    return greatest < -ROUNDING || least > LIMIT + ROUNDING || greatest - bead < -ROUNDING ? false : null;
  }

  check() {
    const given = `${this.text(this.least, "down")} to ${this.text(this.greatest, "up")}`;
    const text = pick(this.outcome, "The measured parts are inside the limit at every pair of readings.",
      "The measured parts are outside the limit.", "Some pairs of readings are inside the limit and some are not.");
    return check("clearance_measured", label(this.rule), given, `${limitText(this.metric)} on the diameter, measured`,
      this.outcome, `${text} ${this.whatToDo()[0]}`);
  }

  text(inches, way = "near") {
    return fineText(inches, this.metric, way);
  }

  get isFew() {
    return Math.min(this.measured.tubeOd.length, bores(this.measured).length) < ENOUGH_READINGS;
  }

  whatToDo() {
    const lines = this.greatest > LIMIT + ROUNDING || this.least > LIMIT + ROUNDING ? this.tooLoose()
      : this.least >= SLIDES - ROUNDING ? ["It slides. Push it over the tube by hand, full length, before you weld."]
      : this.tooTight();
    if (this.bead > 0 && this.least >= SLIDES - ROUNDING) {
      lines.push(`The bead is ${this.text(this.bead)} high. Look for higher spots along the full length.`);
    }
    return this.isFew ? [...lines, AGAIN] : lines;
  }

  tooLoose() {
    const over = this.text(this.greatest - LIMIT, "up");
    if (this.least > LIMIT + ROUNDING) return [`Too loose by up to ${over}. Choose another sleeve.`, this.another()];
    return [
      `Too loose by ${over} at the loosest pair of readings. Measure again at both ends.`,
      ...(this.least < SLIDES - ROUNDING ? ["It is tight and loose on one tube. Round the tube or the sleeve up, or cut back to round tube."] : []),
      this.another(),
    ];
  }

  tooTight() {
    const { bead, measured: { sleeve, tube } } = this;
    const lines = bead > 0 ? [`Take the bead out, full length. That gives ${this.text(bead, "down")}.`] : [];
    const short = SLIDES - this.least - (bead > 0 ? bead : 0);
    if (short <= ROUNDING) return [...lines, "Then measure the bore again and slide the sleeve over the tube."];
    const amount = this.text(short, "up");
    if (short > T.MOST_HONED + ROUNDING) {
      return [...lines, `Too tight by ${amount}. Honing takes up to ${this.text(T.MOST_HONED, "down")}. Choose another sleeve.`, this.another()];
    }
    if (this.greatest + short > LIMIT + ROUNDING) {
      return [...lines, `Too tight by ${amount}, and too loose elsewhere once honed. Choose another sleeve.`, this.another()];
    }
    if (this.least < -ROUNDING && this.greatest >= 0) lines.push("Turn the sleeve on the tube first: the ovals may line up.");
    if (short <= MOST_POLISHED + ROUNDING) lines.push(`Polish scale and high spots off the tube, up to ${amount} on the diameter.`);
    lines.push(`Hone ${amount} off the bore, on the diameter.`);
    if (tube && sleeve && sleeve.t - short / 2 < tube.t - ROUNDING) {
      lines.push(`Honing leaves the sleeve's wall ${this.text(sleeve.t - short / 2, "down")}, under the tube's ${this.text(tube.t)}. Ask the inspector first.`);
    }
    return [...lines, "Measure again after each pass. Stop when it slides by hand."];
  }

  another() {
    const outside = ods(this.measured);
    const [low, high] = [Math.max(...outside) + SLIDES, Math.min(...outside) + LIMIT];
    // Or the two ends, rounded inward, would cross.
    if (high - low < T.FINEST - ROUNDING) {
      return "No round bore suits this tube: it is too oval. Round it up or cut back to round tube, then measure again.";
    }
    return `A bore of ${this.text(low, "up")} to ${this.text(high, "down")}, free of any bead, suits this tube.`;
  }

  // Without the worst case beside it: core/fit_block.py leaves that out.
  asDict() {
    const { metric } = this;
    const made = {
      least: down(this.least, metric), greatest: up(this.greatest, metric),
      tube_ovality: up(this.tubeOvality, metric), bore_ovality: up(this.boreOvality, metric),
    };
    return {
      numbers: [
        line("Least clearance, measured", made.least, "smallest bore - bead - largest tube"),
        line("Greatest clearance, measured", made.greatest, "largest bore - smallest tube"),
        line("Tube out of round", made.tube_ovality, "largest - smallest reading"),
        line("Bore out of round", made.bore_ovality, "largest - smallest reading"),
      ],
      ...made,
      bead: near(this.bead, metric),
      checks: [this.check()],
      what_to_do: this.whatToDo(),
      assumptions: this.assumptions(),
      sources: sources(this.rule, "dom", "seam-practice"),
      warnings: this.outcome === false ? [{ rank: 1, text: this.check().text }] : [],
      deference: DEFERENCE,
    };
  }

  assumptions() {
    const { sleeveBore, sleeveOd, sleeveWall } = this.measured;
    return [
      "Largest and smallest readings are taken to meet at the same place; the parts may do better.",
      "A bead inside costs its height once: the tube rests against the far side.",
      `A sleeve is taken to slide from ${this.text(SLIDES)} on the diameter up (common practice, no source).`,
      ...(!sleeveBore.length ? ["No bore was measured; it is taken as the sleeve's outside less twice its wall."]
        : sleeveOd.length || sleeveWall !== null ? ["The bore was measured, so the sleeve's outside and wall are not used."] : []),
      ...(this.tubeOvality === 0 || this.boreOvality === 0
        ? ["All readings of one part are the same. Check that they were taken a quarter turn apart."] : []),
    ];
  }
}

export const AGAIN = "Measure again at both ends, a quarter turn apart: four readings of each part tell more than two.";

// Refuses readings that cannot be of one part.
function refuseReadings(measured) {
  const { bead, sleeveBore, sleeveOd, sleeveWall, tubeOd } = measured;
  const problems = [];
  belongTogether(tubeOd, "tube_od", "tube's outside", problems);
  const byOutside = !sleeveBore.length && sleeveOd.length > 0;
  if (byOutside && sleeveWall === null) {
    problems.push(new CoreProblem("bad-readings", "The sleeve's outside says nothing about its bore without a wall.", {
      given: "no wall", allowed: "sleeve bores, or sleeve outside diameters with the wall.",
      next: "Measure the bore, or measure the wall.", field: "sleeve_wall",
    }));
  } else if (byOutside) belongTogether(sleeveOd, "sleeve_od", "sleeve", problems);
  else belongTogether(sleeveBore, "sleeve_bore", "sleeve", problems);
  collect(problems);
  const [smallest, high] = [Math.min(...bores(measured)), Number(bead)];
  if (smallest <= 0 || !(high >= 0 && high < smallest)) {
    throw new CoreProblem("bad-readings", "The wall or the bead leaves no hole in the sleeve.", {
      given: `bore ${fixed(smallest, 3)} in, bead ${fixed(high, 3)} in`, allowed: "a bore over zero and a bead lower than it.",
      next: "Measure the wall and the bead again.", field: smallest > 0 ? "bead" : "sleeve_wall",
    });
  }
}

function belongTogether(readings, field, what, problems) {
  const refuse = (title, given, allowed, next) => problems.push(new CoreProblem("bad-readings", title, { given, allowed, next, field }));
  const values = readings.map(Number);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (values.length < 2) {
    refuse(`Too few readings of the ${what}.`, `${values.length}`, "two or more.", "Measure again a quarter turn around.");
  } else if (high - low > T.WIDEST_SPREAD * high + ROUNDING) {
    refuse(`These readings of the ${what} are too far apart to be one part.`, `${fixed(low, 3)} in and ${fixed(high, 3)} in`,
      `within ${fixed(T.WIDEST_SPREAD * 100, 0)}% of each other.`, "Measure the odd one again, away from the damage.");
  }
}

export function readMeasured(data) {
  const reader = openJob(data, T.MEMBERS, `for example ${T.EXAMPLE}`, "Send tube_od and sleeve_bore.", "readings");
  const { problems, unit } = reader;
  const readings = (name) => reader.read(name, (value) => readReadings(value, unit));
  const tubeOd = readings("tube_od");
  const sleeveBore = readings("sleeve_bore");
  const sleeveOd = readings("sleeve_od");
  const sleeveWall = reader.read("sleeve_wall", (value) => readWall(value, unit));
  const bead = reader.length("bead", truthy(get(data, "bead")) ? data.bead : `0 ${unit}`, unit, 0.25, true);
  collect(problems);
  const measured = { tubeOd, sleeveBore, sleeveOd, sleeveWall, bead };
  refuseReadings(measured);
  return measured;
}

const readWall = (value, unit) =>
  value === null || value === "" ? null
    : inRange(readLength(value, { role: "wall", defaultUnit: unit }), limits.THINNEST_WALL, limits.THICKEST_WALL);

function readReadings(value, unit) {
  if (value === null) return [];
  if (!Array.isArray(value) || value.length > T.MOST_READINGS) {
    throw new CoreProblem("bad-readings", "The readings must be a list of lengths.", {
      given: value, allowed: `up to ${T.MOST_READINGS} text lengths.`, next: 'Send for example ["1.625 in", "1.620 in"].',
    });
  }
  return value.filter((text) => text !== "")
    .map((text) => inRange(readLength(text, { role: "diameter", defaultUnit: unit }), limits.SMALLEST_OD / 2, limits.LARGEST_OD));
}

function inRange(length, low, high) {
  if (Number(length) >= low && Number(length) <= high) return length;
  throw new CoreProblem("out-of-range", "That reading is outside what this handles.", {
    given: length.typed, allowed: inchesRange(low, high), next: "Check the number and its unit.",
  });
}
