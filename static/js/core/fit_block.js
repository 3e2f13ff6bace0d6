// Mirrors core/fit_block.py: fit of the two parts side by side: as drawn, at the table's worst, as measured.

import { limitText } from "./fit.js";
import { AGAIN, LIMIT, MOST_POLISHED, MeasuredFit, ROUNDING, SLIDES, bores, ods } from "./fit_measured.js";
import { seamGap } from "./methods/split_sleeve.js";
import { roundPlaces } from "./python.js";
import { down, fineText, near, up } from "./quantity.js";
import { verdict } from "./rules.js";
import { swapWords } from "./size_options.js";

// A sleeve inside the tube: its readings stand where the tube's do, and the tube's bore is the bore.
class InnerFit extends MeasuredFit {
  get rule() {
    return "inner-sleeve";
  }

  whatToDo() {
    const lines = this.greatest > LIMIT + ROUNDING
      ? [`Too loose by up to ${this.text(this.greatest - LIMIT, "up")}. Choose a larger sleeve, or measure again at both ends.`, this.another()]
      : SLIDES - this.least <= ROUNDING ? ["It slides. Push it into the tube by hand, full length, before you weld."]
      : this.tooTight();
    return this.isFew ? [...lines, AGAIN] : lines;
  }

  tooTight() {
    const short = SLIDES - this.least - this.bead;
    return [
      ...(this.bead ? [`Take the bead out of the tube, as far as the sleeve goes. That gives ${this.text(this.bead, "down")}.`] : []),
      ...(short > ROUNDING ? this.takeOff(short) : ["Then measure the bore again and slide the sleeve in."]),
    ];
  }

  takeOff(short) {
    const amount = this.text(short, "up");
    if (this.greatest + short > LIMIT + ROUNDING) {
      return [`Too tight by ${amount}, and too loose elsewhere once it slides. Choose another sleeve.`, this.another()];
    }
    if (short <= MOST_POLISHED + ROUNDING) {
      return [`Polish scale and high spots off the sleeve, up to ${amount} on the diameter.`, "Measure again. Stop when it slides by hand."];
    }
    const left = this.measured.tube.t - short / 2;
    const wall = left > 0 ? ` That leaves its wall ${this.text(left, "down")}.` : "";
    return [
      `Turn the sleeve down ${amount} on the diameter, full length.${wall}`,
      "Type the turned diameter above: every rule is then judged again.", this.another(),
    ];
  }

  another() {
    const inside = bores(this.measured);
    const [low, high] = [Math.max(...inside) - LIMIT, Math.min(...inside) - this.bead - SLIDES];
    if (low > high) return "No round sleeve suits this bore: it is too oval, or the bead is too high. Measure again, or use another method.";
    return `A sleeve of ${this.text(low, "up")} to ${this.text(high, "down")} outside diameter suits this bore.`;
  }
}

// A larger tube over the stubs.
class LargerFit extends MeasuredFit {
  get rule() {
    return "larger-tube";
  }

  whatToDo() {
    return super.whatToDo().map((line) => line.replaceAll("sleeve", "new tube").replaceAll("over the tube", "over both stubs"));
  }
}

// Two halves clamped on the tube: nothing slides, so only the limit counts.
class HalvesFit extends MeasuredFit {
  get rule() {
    return "larger-tube";
  }

  whatToDo() {
    const lines = this.greatest > LIMIT + ROUNDING
      ? [`Too loose by up to ${this.text(this.greatest - LIMIT, "up")}. Choose another sleeve.`, this.another()]
      : this.least >= -ROUNDING ? ["Clamp both halves on the tube. Look for light under them, full length."]
      : [`Too tight by ${this.text(-this.least, "up")}: the halves stand off the tube.`,
        "Hone the bore before you slit it, or choose another sleeve.", this.another()];
    if (this.bead) lines.push("Take the bead out of the sleeve, full length, before you slit it.");
    return this.isFew ? [...lines, AGAIN] : lines;
  }
}

const KINDS = { "outer-sleeve": MeasuredFit, "inner-sleeve": InnerFit, "larger-tube": LargerFit, "split-sleeve": HalvesFit };

// The measured fit of a splice, in the words of its method.
export const fitOf = ({ inner, method, metric, outer }, readings) =>
  new KINDS[method]({ ...readings, tube: inner, sleeve: outer, metric });

// `measured` is null while nothing is measured.
export function fitBlock(parts, measured) {
  const { bead, metric, worst } = parts;
  const between = parts.method === "inner-sleeve" ? "tube's bore less sleeve" : `${parts.part}'s bore less tube`;
  const onPaper = within(worst.lowest - bead, worst.highest);
  return {
    between: `${between}, on the diameter`,
    limit: limitText(metric),
    rows: [
      { label: "Least", drawn: near(worst.nominal - bead, metric), worst: down(worst.lowest - bead, metric),
        measured: measured && down(measured.least, metric) },
      { label: "Greatest", drawn: near(worst.nominal, metric), worst: up(worst.highest, metric),
        measured: measured && up(measured.greatest, metric) },
    ],
    verdicts: {
      drawn: verdict(within(worst.nominal - bead, worst.nominal)), worst: verdict(onPaper),
      measured: measured && verdict(measured.outcome),
    },
    what_to_do: measured ? measured.whatToDo() : beforeMeasuring(parts, onPaper),
    measured: measured && formOf(parts, measured),
  };
}

// Tolerances are known to a thousandth; rounding error must not turn a limit into a miss.
function within(least, greatest) {
  const [low, high] = [roundPlaces(least, 6), roundPlaces(greatest, 6)];
  if (low >= 0 && high <= LIMIT) return true;
  return high < 0 || low > LIMIT ? false : null;
}

function beforeMeasuring({ bead, method, metric, part, worst }, onPaper) {
  const [low, high] = [worst.lowest - bead, worst.highest];
  const both = "Measure both parts at both ends, a quarter turn apart. Type the readings.";
  if (onPaper === false) return [`It does not fit on paper. Choose another ${part}.`, both];
  const work = method === "inner-sleeve" ? "polish or turn the sleeve" : "polish the tube or hone the bore";
  return [
    ...(low < SLIDES - ROUNDING && method !== "split-sleeve"
      ? [`At the tight end it lacks ${fineText(SLIDES - low, metric, "up")} to slide. Be ready to ${work}.`] : []),
    ...(roundPlaces(high - LIMIT, 6) > 0
      ? [`At the loose end it is ${fineText(high - LIMIT, metric, "up")} over the limit. Then choose another ${part}.`] : []),
    both,
  ];
}

function formOf({ kerf, method, metric }, measured) {
  const made = measured.asDict();
  if (method === "split-sleeve") {
    if (kerf !== null) {
      const gap = seamGap(Math.max(...ods(measured.measured)), Math.min(...bores(measured.measured)), kerf);
      made.numbers.push({ label: "Gap at each seam, measured, most", value: up(gap, metric),
        note: "Halves clamped on the tube, by the smallest bore and the largest tube." });
    }
    made.assumptions = made.assumptions.filter((line) => !line.includes("slide"));
  } else if (method === "inner-sleeve") {
    made.numbers = made.numbers.map((row) => ({ ...row, label: swapWords(row.label), note: swapWords(row.note) }));
    made.assumptions = made.assumptions.map((line) => (line.includes("taken to slide") ? line : swapWords(line)));
  } else if (method === "larger-tube") {
    made.assumptions = made.assumptions.map((line) => line.replaceAll("sleeve", "new tube"));
  }
  return made;
}
