// Asks the mirror every question of the vectors and compares each answer with the core's own:
// texts equal, numbers within 1 part in 10^9. Runs in node and in Chromium unchanged.

const SLACK = 1e-9;

export async function load(base) {
  const [core, fraction, problems, python, quantity] = await Promise.all(
    ["index", "fraction", "problems", "python", "quantity"].map((name) => import(`${base}${name}.js`)));
  const { Fraction, frac } = fraction;
  return {
    ...core,
    ...python,
    ...quantity,
    shorten: problems.shorten,
    checklistFor: (method, context) => core.checklistFor(method, context).toDict(),
    checklistOf: (job) => core.checklistOf(job).toDict(),
    readBack: (body) => core.checklistFromDict(body).toDict(),
    fraction: (n, d) => {
      const made = frac(n, d);
      return [Number(made), String(made), String(made.round()), String(made.limitDenominator(1000000))];
    },
    hypotBits: (x, y) => {
      const view = new DataView(new ArrayBuffer(8));
      view.setFloat64(0, python.hypot(x, y));
      return view.getBigUint64(0).toString(16).padStart(16, "0");
    },
    decimalText: (value, places) => quantity.decimalText(Fraction.of(value), places),
    // Each mark in turn, then where the list stands.
    runChecklist: (method, context, events) => {
      const list = core.checklistFor(method, context);
      const kept = [];
      const told = events.map((event) => {
        const answer = answerOf(() => core.checkEvent(list, kept, event));
        if (answer.is) kept.push({ ...answer.is, id: kept.length + 1, at: "2026-11-25T13:00:00Z" });
        return answer;
      });
      return [told, core.checklistState(list, kept)];
    },
  };
}

function answerOf(ask) {
  try {
    return { is: ask() };
  } catch (problem) {
    if (problem.name !== "CoreProblem") throw problem;
    return { problem: problem.asDict() };
  }
}

// The first place where two JSON values differ, "" for none.
export function difference(expected, found, path = "") {
  if (typeof expected === "number" && typeof found === "number") {
    const close = Math.abs(expected - found) <= SLACK * Math.max(Math.abs(expected), Math.abs(found)) || Math.max(Math.abs(expected), Math.abs(found)) < 1e-12;
    return close ? "" : `${path}: ${expected} here ${found}`;
  }
  const both = [expected, found].every((value) => typeof value === "object" && value !== null);
  if (!both || Array.isArray(expected) !== Array.isArray(found)) {
    return expected === found ? "" : `${path}: ${JSON.stringify(expected)} here ${JSON.stringify(found)}`;
  }
  const names = new Set([...Object.keys(expected), ...Object.keys(found)]);
  for (const name of names) {
    if (!Object.hasOwn(expected, name) || !Object.hasOwn(found, name)) return `${path}/${name}: in one answer only`;
    const told = difference(expected[name], found[name], `${path}/${name}`);
    if (told) return told;
  }
  return "";
}

// How many answers of each function were compared, and the first differences.
export async function run(mirror, cases) {
  const counts = {};
  const differences = [];
  for (const [name, given, expected] of cases) {
    let found;
    try {
      found = answerOf(() => mirror[name](...given));
      if (found.is instanceof Promise) found = { is: await found.is };
    } catch (error) {
      found = { error: String(error.stack || error) };
    }
    counts[name] = (counts[name] || 0) + 1;
    const told = difference(expected, found);
    if (told) differences.push(`${name}(${JSON.stringify(given).slice(0, 600)}) ${told}`);
  }
  return { counts, differences: differences.slice(0, 20), wrong: differences.length };
}
