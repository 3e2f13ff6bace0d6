// Talks to the laptop, and to this phone where the laptop does not answer. A read shows what was
// kept, with its age. A write is on this phone's disk before it is sent, under a key of its own, so
// that a repeat after a lost answer is answered the same and nothing is written twice.
import { isUnsent, jobWith, jobsWith, keptPath, recordOf, recordWith, stockWith } from "./offline/effects.js";
import { answerHere, canAnswer, compute } from "./offline/mirror.js";
import { askToPersist, ready } from "./offline/phone.js";
import { shownFrom, shownHere, status, tell } from "./offline/status.js";
import { WRITE_MS, call, randomHex, readLimit } from "./offline/wire.js";
import { Trouble, cannotCompute, needsLaptop, notForRole, notKeptHere, notSentYet, nothingSaved } from "./trouble.js";

export { Trouble } from "./trouble.js";

const ANSWER_MS = 2500;
const KEPT = /^\/api\/(jobs|records|stock|choices|rules|health)(\/|$)/;
// What changes by the minute: its age is shown.
const AGES = /^\/api\/(jobs|records|stock)/;
const COMPUTED = /^\/api\/(size|assess|cuts|stock\/candidates)(\?|$)/;
// Writes that may wait on this phone. All else is for the laptop alone.
const QUEUED = [
  ["POST", /^\/api\/jobs$/], ["PUT", /^\/api\/jobs\/[^/]+\/sections\/[a-z]+$/], ["POST", /^\/api\/jobs\/[^/]+\/steps$/], ["POST", /^\/api\/jobs\/[^/]+\/photos\?/],
  ["POST", /^\/api\/stock$/], ["PUT", /^\/api\/stock\/\d+$/], ["POST", /^\/api\/stock\/\d+\/(take|return|adjust)$/], ["POST", /^\/api\/records\/[^/]+\/amendments$/],
];

// What a phone with role weld may write (fieldapp/access.py); role view may write nothing.
const WELD = /\/(steps|photos\?.*|amendments|take|return)$/;

/** Out of the laptop's reach a phone promises nothing that its role would be refused later. */
function mayWrite(path) {
  const { reach, role } = status();
  if (reach === false && (role === "view" || (role === "weld" && !WELD.test(path)))) throw notForRole(role);
}

/** One answer of ours, or null where the laptop does not answer (a page of a captive portal is no answer). */
async function fromLaptop(method, path, options) {
  const phone = await ready;
  try {
    const answer = await call(method, path, options);
    if (answer.body !== null || answer.text !== null) {
      phone.sync.reached();
      return answer;
    }
  } catch {
    // No answer in time.
  }
  phone.sync.lost();
  return null;
}

export async function get(path) {
  const { answers } = await ready;
  const answer = path.startsWith("/api/length?") && status().reach === false ? null : await fromLaptop("GET", path, { limit: readLimit(status().reach) });
  const keeps = answers && KEPT.test(path);
  if (answer?.ok) {
    const data = answer.body ?? answer.text;
    if (keeps) await answers.put(keptPath(path), data).catch(() => {});
    shownFrom(path, null);
    return withEffects(path, data);
  }
  if (answer && answer.status < 500) {
    // A job the laptop does not know yet, or not as far as this phone has got with it.
    const mine = touches(status().operations.filter(isUnsent), recordOf(path)) ? await withEffects(path, null).catch(() => null) : null;
    if (mine) return mine;
    throw new Trouble(answer.body, answer.status);
  }
  if (canAnswer(path)) return here(path, null);
  const kept = keeps ? await answers.get(keptPath(path)) : null;
  const data = await withEffects(path, kept?.data ?? null);
  if (data === null) throw answer ? new Trouble(answer.body, answer.status) : notKeptHere();
  if (kept && AGES.test(path)) shownFrom(path, kept.at);
  return data;
}

async function here(path, body) {
  const { checks } = await ready;
  const result = await answerHere(path, body, (question) => checks?.keep(question));
  if (body !== null) shownHere(path.split("?")[0]);
  return result;
}

/** What is kept or was answered, with what this phone has done and not sent yet. */
async function withEffects(path, base) {
  const operations = status().operations.filter(isUnsent);
  if (!operations.length && base !== null) return base;
  const [, noun, id, more] = keptPath(path).match(/^\/api\/([a-z]+)(?:\/([^/?]+))?(?:\/([a-z]+))?$/) ?? [];
  if (noun === "jobs" && !id) return jobsWith(base, operations);
  if (noun === "jobs" && !more) return wholeJob(jobWith(base, id, operations), operations);
  if (noun === "jobs" && more === "checklist") return checklistHere(id, base, operations);
  if (noun === "stock" && !id) return stockWith(base, operations, await lengthReader(operations));
  if (noun === "records" && !more) return recordWith(base, id, operations);
  return base;
}

const touches = (operations, id) => operations.some((op) => op.record === id);

async function wholeJob(job, operations) {
  if (!job || !touches(operations, job.id) || !job.sections.choose) return job;
  const state = await compute((core) => core.checklistState(core.checklistOf(job), job.steps)).catch(() => null);
  return state ? { ...job, finished: state.finished } : job;
}

async function checklistHere(id, base, operations) {
  const { answers } = await ready;
  if (base && !touches(operations, id)) return base;
  const job = jobWith((await answers.get(`/api/jobs/${id}`))?.data ?? null, id, operations);
  if (!job) return base;
  return compute((core) => {
    const checklist = core.checklistOf(job);
    return { checklist: checklist.toDict(), state: core.checklistState(checklist, job.steps), provisional: true };
  });
}

async function lengthReader(operations) {
  if (!operations.some((op) => op.record === "stock")) return () => null;
  return compute((core) => (text) => { try { return core.readLength(text).in; } catch { return null; } }).catch(() => () => null);
}

/** Ask for a computation: the laptop, else the laptop's own earlier answer to the same, else this phone. */
export async function ask(path, body) {
  const computed = COMPUTED.test(path);
  const text = JSON.stringify(body);
  const { answers } = await ready;
  const name = `POST ${path} ${text}`;
  const answer = await fromLaptop("POST", path, { body: text, limit: computed ? Math.max(readLimit(status().reach), path === "/api/cuts" && status().reach !== false ? WRITE_MS : 0) : WRITE_MS });
  if (answer?.ok) {
    if (computed) answers?.putComputed(name, answer.body).catch(() => {});
    shownHere(path.split("?")[0], false);
    return answer.body;
  }
  if (answer && (answer.status < 500 || !computed)) throw new Trouble(answer.body, answer.status);
  if (!computed) throw nothingSaved();
  const kept = await answers?.get(name);
  if (kept) return kept.data;
  if (!canAnswer(path)) throw needsLaptop("Planning cuts");
  return here(path, body);
}

// Keys of straight writes whose answer has not come: the same press again reuses its key.
const waiting = new Map();

async function straight(method, path, body, type) {
  const text = typeof body === "string" || body instanceof Blob ? body : JSON.stringify(body);
  const what = `${method} ${path} ${text instanceof Blob ? text.size : text}`;
  const key = waiting.get(what) ?? randomHex(16);
  waiting.set(what, key);
  const answer = await fromLaptop(method, path, { body: text, key, type, limit: WRITE_MS });
  if (!answer) throw nothingSaved();
  if (answer.status < 500) waiting.delete(what);
  if (!answer.ok) throw new Trouble(answer.body, answer.status);
  return answer.body;
}

async function sealable(path, { outbox, sync }) {
  const record = path.match(/^\/api\/jobs\/([^/]+)\/seal$/)?.[1];
  if (!record || !outbox) return;
  await Promise.race([sync.sendNow(), later(ANSWER_MS)]);
  const open = (await outbox.all()).filter((op) => op.record === record && isUnsent(op));
  if (open.length) throw notSentYet(open.length);
}

const later = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

export async function write(method, path, body, type = "application/json", about = {}) {
  const phone = await ready;
  await sealable(path, phone);
  mayWrite(path);
  const queued = phone.outbox && QUEUED.some(([verb, pattern]) => verb === method && pattern.test(path));
  if (!queued) return straight(method, path, body, type);
  let whole = body;
  if (path === "/api/jobs" && !body.id) {
    try {
      whole = { ...body, id: await compute((core) => core.newId()) };
    } catch {
      return straight(method, path, body, type);
    }
  }
  let op;
  try {
    op = await phone.outbox.add({ method, path, type, about, record: recordOf(path, whole), body: whole instanceof Blob ? whole : JSON.stringify(whole) });
  } catch {
    // The phone is full, or lost its store: the laptop can still take it.
    tell({ keeps: false });
    return straight(method, path, body, type);
  }
  askToPersist(phone);
  await Promise.race([phone.sync.sendNow(), later(ANSWER_MS)]);
  return settled(op, phone);
}

/** What became of an operation while its person waited. */
async function settled(op, phone) {
  const all = await phone.outbox.all();
  const kept = all.find((one) => one.key === op.key);
  tell({ operations: all.filter((one) => one.state !== "sent" || one.notice) });
  if (kept?.state === "sent") {
    const answer = phone.arrived.get(op.key);
    phone.arrived.delete(op.key);
    return answer ?? effectOf(op);
  }
  if (kept?.state === "refused") {
    const trouble = new Trouble(kept.problem, kept.problem.status);
    trouble.operation = op.key;
    // Two people's values are laid side by side; anything else is told right here, at what was typed.
    if (!kept.problem.type.endsWith(":section-changed")) await phone.outbox.withdraw(op.key);
    throw trouble;
  }
  try {
    const effect = await effectOf(op);
    tell({ said: "Kept on this phone, not sent yet." });
    return effect;
  } catch (trouble) {
    // This phone judged it as the laptop would, and refuses it: nothing was promised.
    await phone.outbox.withdraw(op.key);
    throw trouble;
  }
}

/** The answer a write would get, from what this phone knows. */
async function effectOf(op) {
  const { answers } = await ready;
  const read = async (path) => withEffects(path, (await answers.get(path))?.data ?? null);
  if (op.record === "stock") {
    const { items } = (await read("/api/stock")) ?? { items: [] };
    return items.find((item) => item.id === Number(op.path.split("/")[3])) ?? items.at(-1) ?? {};
  }
  if (op.path.startsWith("/api/records/")) return read(`/api/records/${op.record}`);
  if (op.path.includes("/photos?")) return { photo: { id: null, key: op.key } };
  if (!op.path.endsWith("/steps")) return read(`/api/jobs/${op.record}`);
  const before = status().operations.filter((one) => isUnsent(one) && one.seq < op.seq);
  const job = jobWith((await answers.get(`/api/jobs/${op.record}`))?.data ?? null, op.record, before);
  if (!job) throw cannotCompute();
  return compute((core) => {
    const checklist = core.checklistOf(job);
    const event = core.checkEvent(checklist, job.steps, JSON.parse(op.body));
    return { event, state: core.checklistState(checklist, [...job.steps, event]) };
  });
}

export const post = (path, body, about) => write("POST", path, body, "application/json", about);
export const put = (path, body, about) => write("PUT", path, body, "application/json", about);
