// The phone's mirror of the core: what the laptop would answer, worked out here when it does not.
// The core (core/*.py) is the authority; tests/mirror compares every answer with it. Results carry
// `provisional: true`, so that a page can say so and ask the laptop again.

import * as assessing from "./assess.js";
import { checkEvent, checklistFor, checklistFromDict, checklistOf, state as checklistState } from "./checklist.js";
import { choices } from "./choices.js";
import { readLength as readExactly } from "./lengths.js";
import { CoreProblem } from "./problems.js";
import { verifyText } from "./record.js";
import * as sizing from "./sizing.js";
import * as stock from "./stock.js";
import { ID_COUNT, idText, makeId, readId, readPayload } from "./tag.js";
import { oneOf } from "./tube.js";

export { CoreProblem, checkEvent, checklistFor, checklistFromDict, checklistOf, checklistState, choices, idText, makeId, readId, verifyText };

const provisional = (answer) => ({ ...answer, provisional: true });

// The JSON of GET /api/length; options role, unit, allowZero.
export function readLength(text, { role = "length", unit = "in", allowZero = false } = {}) {
  oneOf("role", role, ["length", "wall", "diameter"]);
  oneOf("unit", unit, ["in", "mm"]);
  return provisional(readExactly(text, { role, defaultUnit: unit, allowZero }).asDict());
}

// The JSON of POST /api/size; `not_computed` names what of it only the laptop works out: strength, drawing, member.
export const size = (data) => provisional(sizing.size(data));
// The JSON of POST /api/assess without `shop_rules`; with a member, `not_checked` says so.
export const assess = (data) => provisional(assessing.assess(data));
// The JSON of POST /api/stock/candidates.
export const candidates = (data) => provisional(stock.candidates(data));
// `tag` and `context` of a sized repair.
export const summary = (data) => sizing.summary(data);
// What a tag's QR text says.
export const tagRead = (text) => readPayload(text);

// A fresh job id, each as likely as the next.
export function newId(fill = (words) => crypto.getRandomValues(words)) {
  const span = 2 ** 36;
  for (;;) {
    const [high, low] = fill(new Uint32Array(2));
    const drawn = (high % 16) * 2 ** 32 + low;
    // 2^36 holds ID_COUNT twice and a rest; the rest is thrown back so that no id comes up more often.
    if (drawn < span - (span % ID_COUNT)) return makeId(drawn % ID_COUNT);
  }
}
