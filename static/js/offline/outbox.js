// The unsent list: what this phone has written down and the laptop has not acknowledged.
// Nothing of the browser is in here. Storage, transport, clock and random are given, so that
// node can try the real thing ten thousand ways.
import { judge, kindOf, rebased, toNote } from "./judge.js";

const KEEP_SENT_MS = 30 * 24 * 3600 * 1000;
const FIRST_WAIT_MS = 1000;
const LONGEST_WAIT_MS = 60_000;
const LONGEST_RETRY_AFTER_S = 300;
export const SHORTEST_REASON = 3;

export const isOpen = (op) => op.state === "waiting" || op.state === "refused";

/** Whether an operation is still as it was sent. A photo is never edited, and its Blob is another object at each reading. */
const sameBody = (kept, sent) => typeof kept.body !== "string" || kept.body === sent.body;

/** Operations of one path that are not settled, later than `op`: they were built on it. */
const builtOn = (op, all) => all.filter((other) => isOpen(other) && other.path === op.path && other.method === op.method && other.seq > op.seq);

/**
 * @param storage  add(op), all(), update(key, change), meta(name), setMeta(name, value), renew(generation, change); every change is on disk when it resolves.
 * @param transport  (op) => {status, kind, echo, body, retryAfter}; throws where no answer came.
 * @param clock  () => milliseconds.
 * @param random  {hex(bytes), part()}: a key and a number from 0 to 1.
 * @param onSent  (op, body) => kept before the operation is marked sent.
 * @param onChange  () => told after every change of the list.
 */
export function createOutbox({ storage, transport, clock, random, onSent = async () => {}, onChange = () => {} }) {
  let stopped = null;

  async function change(key, part) {
    const fresh = await storage.update(key, part);
    onChange();
    return fresh;
  }

  /** Put a write on the list. It is on disk when this resolves. */
  async function add({ method, path, body, type = "application/json", record, about = {} }) {
    const op = await storage.add({
      key: random.hex(16), record, method, path, body, type, about, made_at: clock(), tries: 0, next_at: 0, state: "waiting", problem: null, last: null, answered_at: null,
      notice: null, dropped_because: null, generation: null, laptop_at: null,
    });
    onChange();
    return op;
  }

  /** The next operation that may go: the oldest open one of its record, not refused, not resting. */
  function next(all, tried, force) {
    const seen = new Set();
    const now = clock();
    for (const op of all) {
      if (!isOpen(op) || seen.has(op.record)) continue;
      seen.add(op.record);
      // A clock that was put back must not make an operation wait for a day.
      const resting = op.next_at > now && op.next_at - now <= LONGEST_RETRY_AFTER_S * 1000;
      if (op.state === "waiting" && !tried.has(op.key) && (force || !resting)) return op;
    }
    return null;
  }

  /** Send what may be sent. Only one flush may run at a time over one storage. */
  async function flush({ force = false } = {}) {
    const tried = new Set();
    const done = { sent: 0, reached: null, stopped: null };
    for (;;) {
      const op = next(await storage.all(), tried, force);
      if (!op) return done;
      const generation = (await storage.meta("generation")) ?? null;
      let answer;
      try {
        answer = await transport(op);
      } catch (cause) {
        await rest(op, { what: "no answer", detail: cause?.message });
        return { ...done, reached: false };
      }
      const verdict = judge(op, answer);
      done.reached = verdict.what !== "again" || done.reached;
      if (verdict.what === "sent") {
        stopped = null;
        done.sent += 1;
        await acknowledged(op, answer, generation);
        // What is not settled by its own acknowledgement is left for the next time, never sent in a ring.
        tried.add(op.key);
      } else if (verdict.what === "refused") {
        await refused(op, verdict.problem);
      } else if (verdict.what === "stop") {
        stopped = verdict.problem;
        await rest(op, { what: "stopped", status: answer.status, problem: verdict.problem });
        return { ...done, stopped };
      } else {
        tried.add(op.key);
        await rest(op, { what: verdict.why, status: answer.status }, answer.retryAfter);
      }
    }
  }

  async function acknowledged(op, answer, generation) {
    try {
      await onSent(op, answer.body);
    } catch {
      // What the screens show is read again from the laptop; the acknowledgement counts all the same.
    }
    const laptop_at = (await storage.meta("laptop_time")) ?? null;
    const now = (await storage.meta("generation")) ?? null;
    await change(op.key, (kept) => {
      // A restore in between: this answer is from data that is gone, so it stays to be sent again.
      if (now !== generation || !sameBody(kept, op)) return kept;
      return { ...kept, state: "sent", problem: null, last: null, answered_at: clock(), generation, laptop_at, photo: answer.body?.photo?.id ?? null };
    });
  }

  async function refused(op, problem) {
    const kind = kindOf(problem);
    const at = clock();
    await change(op.key, (kept) => {
      if (kept.state !== "waiting" || !sameBody(kept, op)) return kept;
      const note = kind === "already-marked" ? toNote(kept, "another phone") : null;
      if (note) return { ...kept, body: note, next_at: 0, notice: { kind, at, problem } };
      const notice = kind === "not-enough-stock" ? { kind, at, problem } : kept.notice;
      return { ...kept, state: "refused", problem, notice, tries: kept.tries + 1, answered_at: at, last: { what: "refused", at } };
    });
  }

  async function rest(op, last, retryAfter = 0) {
    const at = clock();
    await change(op.key, (kept) => {
      const tries = kept.tries + 1;
      const wait = Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** Math.min(tries - 1, 10)) * (0.5 + random.part() / 2);
      const asked = Math.min(LONGEST_RETRY_AFTER_S, Number(retryAfter) || 0) * 1000;
      return { ...kept, tries, last: { ...last, at }, next_at: at + Math.max(wait, asked) };
    });
  }

  /**
   * What /api/health said. Another generation is another data file: what the laptop had
   * acknowledged before may be gone, so all of it goes again under the same keys.
   */
  async function sawLaptop({ generation, time }) {
    if (time) await storage.setMeta("laptop_time", time);
    if (generation && generation !== (await storage.meta("generation"))) {
      await storage.renew(generation, (op) => {
        const again = op.state === "refused" || (op.state === "sent" && op.generation !== generation);
        return again ? { ...op, state: "waiting", problem: null, next_at: 0, tries: 0 } : op;
      });
      onChange();
    }
    // By the laptop's own time: a phone whose clock jumps must not forget early.
    const old = (op) => op.state === "sent" && !op.notice && op.laptop_at && time && Date.parse(time) - Date.parse(op.laptop_at) > KEEP_SENT_MS;
    for (const op of (await storage.all()).filter(old)) await storage.update(op.key, (kept) => (old(kept) ? null : kept));
  }

  const reopened = (op, part) => ({ ...op, state: "waiting", problem: null, next_at: 0, ...part });
  const isRefused = (op) => op?.state === "refused";

  /** Send a refused operation again as it is. */
  const sendAgain = (key) => change(key, (op) => (isRefused(op) ? reopened(op) : op));

  /** Let later saves of the same section count on from `revision`; they were built on one that changes. */
  async function renumber(later, revision) {
    for (const [step, other] of later.entries()) {
      await change(other.key, (kept) => (isOpen(kept) ? { ...kept, body: rebased(kept.body, revision + step) } : kept));
    }
  }

  /** Put a refused section on top of what is there now, as it is or edited; later saves of it follow. */
  async function onTop(key, data) {
    const all = await storage.all();
    const op = all.find((one) => one.key === key);
    if (!isRefused(op) || kindOf(op.problem) !== "section-changed") return;
    const revision = op.problem.current?.revision ?? 0;
    // The later ones first: this one holds them back until it is right itself.
    await renumber(builtOn(op, all), revision + 1);
    await change(key, (kept) => (isRefused(kept) ? reopened(kept, { body: rebased(kept.body, revision, data) }) : kept));
  }

  /** Keep a refused step mark as a note, so that the record tells it. */
  const asNote = (key) => change(key, (op) => (isRefused(op) ? reopened(op, { body: toNote(op, "this phone") ?? op.body }) : op));

  /** Leave an operation out for good. It stays on the list of this phone, with the reason. */
  async function drop(key, reason) {
    if (reason.trim().length < SHORTEST_REASON) throw new Error("Say why it is dropped.");
    const all = await storage.all();
    const op = all.find((one) => one.key === key);
    if (!op || !isOpen(op)) return;
    // A later save was built on this one. By its old number it could go over another person's in silence.
    if (/\/sections\//.test(op.path)) await renumber(builtOn(op, all), JSON.parse(op.body).base_revision);
    await change(key, (kept) => (isOpen(kept) ? { ...kept, state: "dropped", notice: null, dropped_because: reason.trim(), answered_at: clock() } : kept));
  }

  /** Take back a write whose person was told at once that it was refused; nothing was promised. */
  const withdraw = (key) => change(key, (op) => (isOpen(op) ? null : op));
  const dismiss = (key) => change(key, (op) => ({ ...op, notice: null }));

  return { add, flush, sawLaptop, sendAgain, onTop, asNote, drop, withdraw, dismiss, stopped: () => stopped, all: () => storage.all() };
}
