// What an answer to an operation means, and how a refused operation is put differently.

const OURS = "urn:pitsplice:problem:";
const STOPS = [401, 403, 421];
const LATER = [408, 429];

export const kindOf = (problem) => (problem?.type?.startsWith(OURS) ? problem.type.slice(OURS.length) : "");

/**
 * sent: the laptop has it, and says so by its key. refused: it will not take it, and says why.
 * stop: it will take nothing from this phone. again: everything else, a captive portal's page too.
 */
export function judge(op, { status, kind, echo, body }) {
  if (status >= 200 && status < 300) {
    if (kind === "application/json" && echo === op.key && body !== null) return { what: "sent" };
    return { what: "again", why: "another page answered" };
  }
  const problem = kind === "application/problem+json" && body?.type?.startsWith(OURS) ? body : null;
  // What this phone's role may not do concerns one operation; the rest of the list goes on.
  if (problem && STOPS.includes(status) && kindOf(problem) !== "not-allowed-for-role") return { what: "stop", problem };
  if (problem && status >= 400 && status < 500 && !LATER.includes(status)) return { what: "refused", problem };
  return { what: "again", why: problem?.title ?? "an answer that is not the laptop's" };
}

/** The body of a section's save with another base, and other data where given. */
export function rebased(body, base, data) {
  const old = JSON.parse(body);
  return JSON.stringify({ ...old, base_revision: base, data: data ?? old.data });
}

const DONE = { done: "done", skip: "skipped", undo: "reopened" };

/** The body of a step mark turned into a note that says what was marked; null where it is no mark. */
export function toNote(op, where) {
  if (!/\/steps$/.test(op.path)) return null;
  const { action, reason, ...event } = JSON.parse(op.body);
  if (!DONE[action]) return null;
  const said = where === "another phone" ? `Marked ${DONE[action]} on another phone as well` : `Marked ${DONE[action]} on a phone, out of order`;
  const text = `${said}: ${event.who}, ${event.when ?? ""}.${reason ? ` ${reason}` : ""}`;
  return JSON.stringify({ ...event, action: "note", reason: text.slice(0, 1000) });
}
