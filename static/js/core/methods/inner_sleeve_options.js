// Mirrors core/methods/inner_sleeve_options.py: ways to get an inner tube that fits, and what each costs.

import { LARGEST_CLEARANCE } from "../fit.js";
import { frac } from "../fraction.js";
import { least } from "../python.js";
import { fineText } from "../quantity.js";
import { sizesAtBore } from "../stock_sizes.js";
import { sizeText } from "../tube.js";
import { exactLength } from "./inner_sleeve_input.js";

export const SLIDE = frac(10, 1000);
const [MEETS, ASK, NO] = ["meets the rules on paper", "ask the inspector", "not met"];

export function options(job) {
  const bore = job.tube.od.inches.sub(job.tube.wall.inches.mul(2));
  const sizes = sizesAtBore(job.tube);
  return [...usual(job, bore, sizes), turned(job, bore, sizes), slit(job, bore, sizes), bored(job, bore, sizes)];
}

const smallest = (parts) => least(parts, (one) => [one.od.inches, one.wall.inches]);
const thickEnough = (job) => (part) => part.wall.inches.ge(job.tube.wall.inches);
const row = (way, size, standing, text, cost) => ({ way, size, standing, text, cost });

function usual(job, bore, sizes) {
  const room = (part) => bore.sub(part.od.inches);
  const good = sizes.filter((part) => room(part).ge(0) && room(part).le(LARGEST_CLEARANCE)).filter(thickEnough(job));
  if (!good.length) {
    return [row("usual size", "none", NO,
      `No usual inner tube by 1/8 in fits a bore of ${fineText(Number(bore), job.metric)} with clearance 0 to 1/16 in and wall ${job.tube.wall.typed} or more.`,
      "Needs one of the other ways, or another repair method.")];
  }
  return good.slice(0, 3).map((part) => row("usual size", sizeText(part), MEETS,
    `Slides in with ${fineText(Number(room(part)), job.metric)} on the diameter.`, "No machine work. Stock and wall vary: measure both."));
}

function turned(job, bore, sizes) {
  const target = bore.sub(SLIDE);
  const left = (part) => part.wall.inches.sub(part.od.inches.sub(target).div(2));
  const enough = sizes.filter((part) => part.od.inches.gt(target) && left(part).ge(job.tube.wall.inches));
  const cost = "Machine work. The sleeve's wall gets thinner: check what is left all round, the bore may be off centre.";
  if (!enough.length) return row("turned down", "none", NO, "No usual tube keeps the tube's wall after turning.", cost);
  const part = smallest(enough);
  const keep = exactLength(left(part), job.metric).typed;
  return row("turned down", sizeText(part), MEETS, `Turn to ${fineText(Number(target), job.metric)}. Wall left: ${keep}.`, cost);
}

const NONE_OVER = "No usual tube is a little larger than the bore with enough wall.";

function slit(job, bore, sizes) {
  const target = bore.sub(SLIDE);
  const over = sizes.filter((part) => part.od.inches.gt(target)).filter(thickEnough(job));
  const cost = "No longer a closed tube. Inside the tube its slit cannot be reached to weld it. The circular's sleeve is a tube.";
  if (!over.length) return row("slit and closed", "none", NO, NONE_OVER, cost);
  const part = smallest(over);
  const strip = Math.PI * Number(part.od.inches.sub(target));
  return row("slit and closed", sizeText(part), ASK,
    `Take out a strip ${fineText(strip, job.metric, "up")} wide, close it to ${fineText(Number(target), job.metric)}.`, cost);
}

function bored(job, bore, sizes) {
  const fits = (part) => part.od.inches.gt(bore) && part.od.inches.add(SLIDE).lt(job.tube.od.inches);
  const over = sizes.filter(fits).filter(thickEnough(job));
  const cost = "Thins the tube that stays in the car, and the thin ring ends beside the weld. The tube's own wall is no longer what the rules asked for.";
  if (!over.length) return row("tube bored out", "none", NO, NONE_OVER, cost);
  const part = smallest(over);
  const boredTo = part.od.inches.add(SLIDE);
  const left = exactLength(job.tube.od.inches.sub(boredTo).div(2), job.metric).typed;
  return row("tube bored out", sizeText(part), NO,
    `Bore the stubs to ${fineText(Number(boredTo), job.metric)}. Wall left: ${left} of ${job.tube.wall.typed}.`, cost);
}
