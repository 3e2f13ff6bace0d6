// Mirrors core/checklist.py: words a checklist, checks one mark at a time, tells where a job stands.
// The same list of events gives the same answer on the phone and on the laptop.

import { Checklist, Hold, checklistFromDict, secondsText } from "./checklist_model.js";
import { Fraction } from "./fraction.js";
import { readLength } from "./lengths.js";
import { CoreProblem, collect, told } from "./problems.js";
import { get, isDict, isText, length, own, strip, truthy, words as split } from "./python.js";
import { summary } from "./sizing.js";
import { checklist as T } from "./tables.js";
import { oneOf, unknownMembers } from "./tube.js";
import { readContext } from "./wording.js";

export { checklistFromDict };

const TIME = /^(?:(\d+)[ \t-\r]*h(?:ours?)?)?[ \t-\r]*(?:(\d+(?:\.\d+)?)[ \t-\r]*min(?:utes?)?)?[ \t-\r]*(?:(\d+(?:\.\d+)?)[ \t-\r]*s(?:ec)?)?$/;

export function checklistFor(method, context) {
  const made = T.METHODS[oneOf("repair method", method, Object.keys(T.METHODS))];
  const [words, figures] = readContext(context);
  const leftOut = new Set([
    ...([1, true].includes(get(context, "sleeves")) ? made.second_sleeve : []),
    ...([null, "fishmouth"].includes(get(context, "end_shape")) ? [] : made.fishmouth),
  ]);
  const unneeded = get(context, "material_class") === "low-carbon" ? T.CHROMOLY : null;
  const groups = made.groups.map((group) => ({
    key: group.key, title: group.title,
    steps: group.steps.map((place) => T.STEPS[place]).filter((step) => !leftOut.has(step.key))
      .map((step) => worded(step, words, figures, unneeded)),
    any_order: group.any_order,
  }));
  return new Checklist({ key: method, method, version: made.version, title: made.title, groups });
}

function worded(step, words, figures, unneeded) {
  const limit = (value) => (value === null ? null : own(figures, value) ? figures[value] : Fraction.of(value));
  return {
    ...step,
    text: step.text.replace(/\{(\w+)\}/g, (_, name) => words[name]),
    cautions: step.cautions.filter((caution) => caution.text !== unneeded),
    hold: step.hold && new Hold({ ...step.hold, limit: limit(step.hold.limit), high: limit(step.hold.high) }),
  };
}

// fieldapp/plan.py checklist_of: the checklist of a job's chosen method, worded with the sized plan.
export function checklistOf(job) {
  const section = (name) => get(get(job.sections, name) ?? {}, "data") ?? {};
  const method = get(section("choose"), "method");
  if (!own(T.METHODS, method)) {
    throw new CoreProblem("no-method", "There is no checklist before the repair method is chosen.", {
      given: truthy(method) ? method : "", allowed: `section choose saved with a method: ${Object.keys(T.METHODS).join(", ")}.`,
      next: "Choose the method first.", field: "choose.method", status: 409,
    });
  }
  const context = own(job.sections, "size") ? summary(section("size")).context : {};
  const sleeves = get(section("choose"), "sleeves");
  // Only an outer sleeve leaves the choice (fieldapp/plan.py).
  return checklistFor(method, sleeves === null || method !== "outer-sleeve" ? context : { ...context, sleeves });
}

export function state(checklist, events) {
  const [steps, refused] = fold(checklist, events);
  const keys = Object.keys(steps);
  const inState = (word) => keys.filter((key) => steps[key].state === word);
  const missing = inState("open");
  const next = missing[0] ?? null;
  return {
    checklist: checklist.key,
    version: checklist.version,
    steps,
    next,
    next_group: next && checklist.places.get(next)[1].key,
    counts: { total: keys.length, done: inState("done").length, skipped: inState("skipped").length, open: missing.length },
    finished: !missing.length,
    missing,
    look_again: keys.filter((key) => steps[key].look_again),
    refused,
  };
}

// The event as it is to be kept, or a problem.
export function checkEvent(checklist, events, event) {
  if (!isDict(event)) throw noEntry(event);
  const problems = [];
  unknownMembers(event, T.MEMBERS, problems);
  collect(problems);
  return judge(checklist, fold(checklist, events)[0], event);
}

export function readSeconds(text) {
  const refuse = (title, allowed, next) => new CoreProblem("bad-time", title, { given: text, allowed, next, field: "value" });
  const clean = isText(text) ? strip(text).toLowerCase() : "";
  const found = clean && length(clean) <= 40 ? TIME.exec(clean) : null;
  if (!found || !found.slice(1).some(Boolean)) {
    throw refuse("That is not a time this reads.", "minutes or seconds with their unit, such as 30 min or 1800 s.", "Type the number and its unit.");
  }
  const [hours, minutes, seconds] = found.slice(1).map((part) => Fraction.of(part ?? "0"));
  const total = hours.mul(3600).add(minutes.mul(60)).add(seconds);
  if (total.gt(T.LONGEST_WAIT)) throw refuse("That is longer than a day.", "up to 24 h.", "Check the unit: s, min or h.");
  return total;
}

function fold(checklist, events) {
  const steps = Object.fromEntries(checklist.steps.map((step) => [step.key, open()]));
  const refused = [];
  events.forEach((event, index) => {
    try {
      apply(steps, judge(checklist, steps, event));
    } catch (problem) {
      if (!(problem instanceof CoreProblem)) throw problem;
      refused.push({ index, kind: problem.kind, title: problem.title });
    }
  });
  return [steps, refused];
}

const open = () => ({ state: "open", by: null, when: null, value: null, reason: null, look_again: false, notes: [] });

function apply(steps, event) {
  const { step, action, who, default_unit: _, ...kept } = event;
  const { notes } = steps[step];
  if (action === "note") {
    notes.push({ by: who, ...kept });
    steps[step].look_again = false;
    return;
  }
  steps[step] = { ...open(), notes };
  if (action === "undo") {
    // What was measured after this step may no longer hold: ask people to look, decide nothing.
    const keys = Object.keys(steps);
    for (const key of keys.slice(keys.indexOf(step) + 1)) steps[key].look_again = steps[key].state !== "open";
    notes.push({ by: who, reopened: true, ...kept });
    return;
  }
  Object.assign(steps[step], { state: action === "done" ? "done" : "skipped", by: who, ...kept });
}

function judge(checklist, steps, event) {
  if (!isDict(event)) throw noEntry(event);
  const key = get(event, "step");
  if (!isText(key) || !checklist.places.has(key)) {
    throw new CoreProblem("unknown-step", "That step is not in this checklist.", {
      given: key, allowed: `a step of ${checklist.version}.`, next: "Load the job again: its checklist may be another one.", field: "step",
    });
  }
  const step = checklist.places.get(key)[0];
  const action = oneOf("mark", get(event, "action"), T.ACTIONS);
  const clean = { step: key, action, who: readWho(get(event, "who")) };
  for (const name of ["when", "reason"]) {
    const value = get(event, name);
    if (value !== null) clean[name] = keptText(name, value);
  }
  if (action === "done" || action === "skip") inTurn(checklist, steps, step);
  if (action === "undo" && steps[key].state === "open") {
    throw new CoreProblem("not-marked", "That step is open already.", {
      given: key, allowed: "a step that is done or skipped.", next: "Go on with the open step.", field: "step",
    });
  }
  if (action === "skip") maySkip(step, clean.reason ?? "");
  if (action === "note" && !clean.reason && get(event, "value") === null) {
    throw bad("", "A note needs some text or a reading.", "text in reason, or a value.", "reason");
  }
  return action === "done" || action === "note" ? { ...clean, ...reading(step, action, event) } : clean;
}

function inTurn(checklist, steps, step) {
  const now = steps[step.key].state;
  if (now !== "open") {
    throw new CoreProblem("already-marked", `That step is ${now} already.`, {
      given: step.text, allowed: "an open step.", next: "Undo it first, if it has to be done again.", field: "step", status: 409,
    });
  }
  const earlier = checklist.steps.slice(0, checklist.places.get(step.key)[2]);
  const first = earlier.find((other) => steps[other.key].state === "open");
  if (first) {
    throw new CoreProblem("out-of-order", `Another step comes first: ${first.text}`, {
      given: step.text, allowed: "the next open step; every step before it done, or skipped with a reason.",
      next: `Do this now: ${first.text}`, field: "step", status: 409,
    });
  }
}

function maySkip(step, reason) {
  if (!step.skippable) {
    throw new CoreProblem("not-skippable", "This step cannot be skipped.", {
      given: step.text, allowed: "done.", next: "Do it before you go on. If you cannot, stop and tell the crew chief.", field: "step",
    });
  }
  if (length(reason) < T.SHORTEST_REASON) {
    throw new CoreProblem("no-reason", "A skipped step needs a reason.", {
      given: reason, allowed: `${T.SHORTEST_REASON} to ${T.LONGEST_REASON} characters.`,
      next: "Say why, for the person who reads the record.", field: "reason",
    });
  }
}

// What a typed value adds to the event; nothing where none was asked.
function reading(step, action, event) {
  const typed = get(event, "value");
  const { hold } = step;
  const missing = typed === null || (isText(typed) && !strip(typed));
  const refuse = (kind, title, given, allowed, next) => new CoreProblem(kind, title, { given, allowed, next, field: "value" });
  if (!hold) {
    if (missing) return {};
    throw refuse("value-not-asked", "This step takes no number.", typed, "no value.", "Write it as a note in words.");
  }
  if (missing) {
    if (action === "note") return {};
    throw refuse("no-value", `This step needs a reading. ${hold.ask}?`, "", `${hold.limitText()}.`, "Measure it and type what you read.");
  }
  const [value, echo, said] = hold.unit === "s" ? readTime(typed) : readReading(typed, hold, event);
  const met = hold.metBy(value);
  if (!met && action === "done") {
    throw refuse("hold-not-met", `${hold.unit === "in" ? "Do not weld yet" : "Not yet"}. ${hold.ask}: ${echo}.`, typed,
      `${hold.limitText()}.`, remedy(hold));
  }
  if (!hold.hasLimit) return { ...said, verdict: `${echo}; recorded, ${hold.limitText()}`, met: null };
  return { ...said, verdict: `${echo}; limit ${hold.limitText()}: ${met ? "met" : "not met"}`, met };
}

function readTime(typed) {
  const value = readSeconds(typed);
  return [value, secondsText(value), { value: strip(typed), value_seconds: String(value) }];
}

function readReading(typed, hold, event) {
  const asked = get(event, "default_unit");
  const defaultUnit = oneOf("unit", truthy(asked) ? asked : "in", ["in", "mm"]);
  const read = told("value", () => readLength(typed, { role: hold.role, defaultUnit, allowZero: true }));
  return [read.inches, read.echo(), { value: read.typed, value_inches: String(read.inches), default_unit: defaultUnit }];
}

const remedy = (hold) => (hold.unit === "s"
  ? "Keep watching until the time is up, then type it again."
  : "Put it right, measure again, type the new reading. If it cannot be put right, ask the inspector; " +
    "if the inspector agrees to it as it is, skip this step with that as the reason.");

function readWho(name) {
  const clean = isText(name) ? split(name).join(" ") : "";
  if (clean && length(clean) <= T.LONGEST_NAME) return clean;
  throw new CoreProblem("no-name", "Who did it?", {
    given: name ?? "", allowed: `a name of 1 to ${T.LONGEST_NAME} characters.`, next: "Type your name or initials.", field: "who",
  });
}

function keptText(name, value) {
  if (isText(value) && length(value) <= T.LONGEST_REASON) return strip(value);
  throw bad(value, `That ${name} cannot be kept.`, `text of up to ${T.LONGEST_REASON} characters.`, name);
}

const noEntry = (event) => bad(event, "An entry must be an object.", "an object with step, action and who.");
const bad = (given, title, allowed, field = "") =>
  new CoreProblem("bad-event", title, { given, allowed, next: "Send it again in that form.", field });
