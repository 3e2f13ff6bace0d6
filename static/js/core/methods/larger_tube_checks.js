// Mirrors core/methods/larger_tube_checks.py: the rules of a larger replacement tube.

import { fitChecks } from "../fit.js";
import { fixed } from "../python.js";
import { fineText } from "../quantity.js";
import { check, label } from "../rules.js";
import { requiredOverlap } from "../sleeve.js";
import { angleCheck, overlapText, shareText } from "./common.js";

const RULE = label("larger-tube");
const BY_HAND = "geometry by hand";
export const [SHORT_STUB, LONG_STUB] = [2.5, 4.5];
const WORDS = [["Tube and sleeve are", "Old tube and new tube are"], ["sleeve", "new tube"], ["Sleeve", "New tube"]];

export const allChecks = (job, reach, cover, travel) => [
  overlapCheck(job, reach),
  ...fitRules(job.tube, job.sleeve, job.metric),
  stubCheck(job, "short_stub", job.stubShort, SHORT_STUB),
  stubCheck(job, "long_stub", job.stubLong, LONG_STUB),
  coverCheck(job, cover),
  travelCheck(job, travel),
  ...endChecks(job),
];

// The checks of the larger tube alone, before it is cut.
export const fitRules = (tube, larger, metric) => fitChecks(tube, larger, metric).map(reworded);
// A text about a sleeve in the words of this method.
export const words = (text) => WORDS.reduce((said, [old, now]) => said.replaceAll(old, now), text);

// A check of core.fit in the words and under the clause of this method.
function reworded(one) {
  const clause = one.clause === label("outer-sleeve") ? RULE : one.clause;
  return { ...one, clause, limit: words(one.limit), text: words(one.text) };
}

function overlapCheck(job, reach) {
  const need = requiredOverlap(job.tube.D);
  const met = reach >= need - 1e-9;
  const share = shareText(reach / job.tube.D, 3);
  const text = met
    ? `The new tube reaches ${share} D past each stub end.`
    : `Too short: ${share} D past each stub end. Cut a new tube at the rule length or longer.`;
  return check("overlap", RULE, overlapText(reach, need, job.metric), `at least ${fineText(need, job.metric, "up")} (1.5 D)`, met, text);
}

function stubCheck(job, name, stub, diameters) {
  const what = name.replaceAll("_", " ");
  const need = diameters * job.tube.D;
  const limit = `at least ${fineText(need, job.metric, "up")} (${fixed(diameters, 1)} D)`;
  if (!stub) return check(name, RULE, "not measured", limit, null, `Measure the ${what}, from its end to the nearest joint, bend or tab.`);
  const met = Number(stub) >= need - 1e-9;
  const text = met ? `The ${what} is long enough.` : `The ${what} is too short for this repair. Choose another method.`;
  return check(name, RULE, stub.typed, limit, met, text);
}

function coverCheck(job, cover) {
  const limit = `at least ${fineText(cover, job.metric, "up")} of bare stub`;
  if (!job.stubShort) {
    return check("tips", BY_HAND, "not measured", limit, null, "Measure the short stub. The tips must not run into its joint, bend or tab.");
  }
  const met = Number(job.stubShort) >= cover - 1e-9;
  return check("tips", BY_HAND, job.stubShort.typed, limit, met, met
    ? "The tips end before the short stub's joint, bend or tab."
    : "The tips run into the short stub's joint, bend or tab. Use a shallower cut or a fishmouth, or another method.");
}

function travelCheck(job, travel) {
  const limit = `at least ${fineText(travel, job.metric, "up")} of bare long stub`;
  if (!job.stubLong) return check("travel", BY_HAND, "not measured", limit, null, "Measure the long stub. The new tube must slide fully onto it.");
  const met = Number(job.stubLong) >= travel - 1e-9;
  const text = met
    ? "The new tube slides onto the long stub until its other end clears the short stub."
    : `The new tube cannot be slid on: the long stub is ${fineText(travel - Number(job.stubLong), job.metric, "up")} too short to take it while its other end clears the short stub. ` +
      "Use a shallower cut, free more of the long stub, or another method.";
  return check("travel", BY_HAND, job.stubLong.typed, limit, met, text);
}

const END_TEXT = {
  fishmouth: "Fishmouth: the end the circular prefers. File the sharp crotch out round.",
  scarf: "A diagonal end. The circular prefers a fishmouth.",
  pointed: "A pointed end is two diagonal cuts. The circular draws a diagonal and a fishmouth: ask the inspector if they take it.",
  square: "The circular asks for diagonal or fishmouth ends. A square end puts the whole weld on one line around the tube.",
};

function endChecks({ cut }) {
  const outcome = { square: false, pointed: null, scarf: true, fishmouth: true }[cut.end];
  return [
    check("end", RULE, cut.end, "diagonal or fishmouth", outcome, END_TEXT[cut.end]),
    // The 30 degrees are written in 4-92; 4-97 gives no angle.
    ...(cut.end === "square" ? [] : [angleCheck(cut, label("split-sleeve"))]),
  ];
}
