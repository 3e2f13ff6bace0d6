// Mirrors core/card.py: drill and saw card of one splice: what is set, drilled and cut, in the order of the shop.

import { holeSteps, stopSteps, surfaceSpeeds } from "./drill.js";
import { FROM_CUT, FROM_TIP, FROM_TUBE_TIP, MEASURED_FROM, mark } from "./hole_plan.js";
import { SLEEVES } from "./methods/inner_sleeve.js";
import { general } from "./python.js";
import { DEFERENCE, PRACTICE, label, sources } from "./rules.js";
import { USUAL_RUN, USUAL_RUN_METRIC, cutOrder, sawNote, sawSetting, sleeveBatch } from "./saw.js";
import { EndCut } from "./sleeve.js";
import { card as T, splitSleeve } from "./tables.js";
import { plainSize } from "./tube.js";

// `plan` is null for a method without rosette holes.
export function card(parts, options, plan) {
  const { method, metric } = parts;
  const { sawGiven, sawStop } = options;
  const run = options.blockDistance ? Number(options.blockDistance) : metric ? USUAL_RUN_METRIC : USUAL_RUN;
  const setting = sawSetting(parts.cut, sawStop, run, metric);
  const saw = { ...setting, stop_deg: sawStop, stop_given: sawGiven, short: sawNote(setting, sawStop, sawGiven) };
  const drill = drillOf(parts, plan);
  const count = options.count ?? (method === "inner-sleeve" ? SLEEVES : 1);
  const [cuts, batch] = cutsOf(parts);
  const drilled = drill?.holes ? drill.steps.map((one) => one.text) : [];
  return {
    numbers: numbersOf(parts, saw, drill, count),
    drill,
    saw,
    cut_order: cuts,
    count,
    batch,
    // Stop holes go in first: the sleeve covers the crack.
    order: method === "split-sleeve" ? [...drilled, ...cuts] : [...cuts, ...drilled],
    assumptions: assumptions(options, drill),
    sources: plan ? sources("rosette", "plug", "rosette-practice") : sources("split-sleeve"),
    notes: [`Speeds: ${T.SPEED_SOURCE}.`, `Drill steps, saw order and stand-off block: ${PRACTICE}.`],
    warnings: warnings(parts, drill).map(([rank, text]) => ({ rank, text })),
    deference: DEFERENCE,
  };
}

function drillOf(parts, plan) {
  const { metric, outer: { material }, tube } = parts;
  if (!plan) {
    if (parts.damage !== "crack") return null;
    const steps = stopSteps(tube.material, metric);
    return {
      hole: { key: "stop", diameter: steps[1].diameter, source: label("split-sleeve"),
        text: `No. 40 (${splitSleeve.STOP_DRILL} in), in the tube at each end of the crack.` },
      holes: 2, measured_from: "", stations: [], steps, surface_speed_ft_min: surfaceSpeeds(tube.material),
    };
  }
  const { hole, origin, places } = plan;
  const steps = holeSteps(hole.diameter, material, metric, T.STEPS[origin] ?? (parts.method === "larger-tube" ? T.ON_STUBS : null));
  const name = origin === FROM_TUBE_TIP ? FROM_TIP : origin;
  return {
    hole: { key: hole.key, diameter: steps.find((one) => one.step === "final").diameter, source: hole.source, text: hole.text },
    // Both ends of the part, or the stub and the replacement over one inner sleeve.
    holes: 2 * places.length,
    measured_from: MEASURED_FROM[origin],
    stations: places.map(([angle, at]) => ({ angle_deg: angle, [name]: mark(at, metric) })),
    steps,
    surface_speed_ft_min: surfaceSpeeds(material),
  };
}

// The cuts of one part in order, and the set-up order for several.
function cutsOf({ blank: { text: length }, cut, method }) {
  if (method === "inner-sleeve") {
    return [[
      `Cut the sleeves square, ${length}. Deburr inside and outside.`,
      "Scribe a line along the stub and the replacement, the two in line.",
      "Cut the stub on the slant, its tip on the line.",
      "Cut the replacement parallel to it, its tip half a turn from the line.",
      T.DEBURR,
    ], sleeveBatch(new EndCut("square", 0), length)];
  }
  const slit = method === "split-sleeve" ? T.SLIT : [];
  return [[...cutOrder(cut), ...slit], [...sleeveBatch(cut, length), ...slit]];
}

function numbersOf(parts, saw, drill, count) {
  const rows = [["Blank", parts.blank, `square both ends, ${plainSize(parts.sleeve)}`], ["Saw setting", saw.setting, saw.note]];
  if (drill) {
    rows.push(["Hole", drill.hole.diameter, drill.hole.source]);
    const from = drill.measured_from.split(", ").slice(1).join(", ");
    for (const at of distances(drill)) rows.push([`Hole centre from the ${FROM_CUT in drill.stations[0] ? "cut" : "tip"}`, at, from]);
    if (count > 1 && drill.stations.length) rows.push(["Holes in all", `${count * drill.holes}`, `${count} sleeves, ${drill.holes} each`]);
    for (const one of drill.steps) {
      if (one.rpm) rows.push([`${one.step[0].toUpperCase()}${one.step.slice(1)} speed`, one.rpm, one.diameter.text]);
    }
  }
  return rows.map(([name, value, note]) => ({ label: name, value, note }));
}

// Each distance once: the tip lines repeat one another.
function distances({ stations }) {
  const found = new Map();
  for (const one of stations) {
    const at = one[FROM_TIP] ?? one[FROM_CUT];
    if (!found.has(at.text)) found.set(at.text, at);
  }
  return found.values();
}

const assumptions = ({ sawGiven, sawStop }, drill) => [
  ...(sawGiven ? [] : [`The saw is taken to stop at ${general(sawStop)}° from square (common practice, no source).`]),
  ...(drill ? [
    "Speeds are for high-speed steel drills with cutting oil. Slow down if the drill squeals or turns blue.",
    "Speeds are rounded down to tens. Take the next slower step of the machine.",
  ] : []),
  ...(drill?.stations.length ? [
    "A countersink runs at a third of the drill's speed (common practice, no source).",
    "A centre drill is taken as 3/16 in across its body.",
  ] : []),
];

function warnings({ method, outer, part }, drill) {
  const clamp = [1, "Clamp the work. Wear eye protection. No gloves or loose sleeves at a turning drill or saw."];
  if (!T.WORDS[method]) return [clamp];
  const [only, nowhere] = T.WORDS[method];
  const drilled = method === "inner-sleeve" ? "tube" : part;
  return [
    [1, only], clamp,
    ...(drill.holes ? [] : [[2, nowhere]]),
    ...(outer.material.steel_class === "unknown"
      ? [[3, `The ${drilled}'s steel is not known: the slower speeds of 4130 are used.`]] : []),
  ];
}
