// A small laptop: jobs, sections, steps, stock, kept keys, backups. What the outbox is tried against.

export const problem = (kind, more = {}) => ({ type: `urn:pitsplice:problem:${kind}`, title: kind, status: 409, ...more });
const refuse = (kind, status = 409, more = {}) => ({ status, kind: "application/problem+json", echo: null, body: problem(kind, { status, ...more }) });
const STEPS = ["a", "b", "c", "d", "e", "f"];
/** A photo's body is an object, another one at each reading, as a Blob is. */
export const textOf = (body) => (typeof body === "string" ? body : body.photo);
const reading = (op) => (typeof op.body === "string" ? op : { ...op, body: { ...op.body } });
const copy = (data) => JSON.parse(JSON.stringify(data));

export class Laptop {
  constructor() {
    this.generations = 1;
    this.data = { jobs: {}, stock: 15, kept: {}, journal: [] };
    this.backups = [];
    this.time = Date.parse("2026-03-01T10:00:00Z");
  }

  health() {
    return { generation: `g${this.generations}`, time: new Date(this.time).toISOString() };
  }

  backup() {
    this.backups.push(copy(this.data));
  }

  restore(random) {
    if (!this.backups.length) return;
    this.data = copy(this.backups[Math.floor(random() * this.backups.length)]);
    this.generations += 1;
  }

  /** What the Flask server does with a keyed write: the kept answer, a mismatch, or the effect. */
  take(op) {
    const payload = `${op.method} ${op.path} ${textOf(op.body)}`;
    const kept = this.data.kept[op.key];
    if (kept) {
      if (kept.payload !== payload) return refuse("operation-mismatch", 422);
      return { status: kept.status, kind: "application/json", echo: op.key, body: copy(kept.answer) };
    }
    const answer = this.effect(op, JSON.parse(textOf(op.body)));
    if (answer.status >= 300) return answer;
    this.data.kept[op.key] = { payload, status: answer.status, answer: copy(answer.body) };
    this.data.journal.push({ key: op.key, record: op.record, path: op.path, body: textOf(op.body) });
    return { ...answer, kind: "application/json", echo: op.key };
  }

  effect(op, body) {
    const { jobs } = this.data;
    if (op.path === "/api/jobs") {
      if (jobs[body.id]) return refuse("id-taken");
      jobs[body.id] = { sections: {}, steps: {}, notes: [] };
      return { status: 201, body: { id: body.id } };
    }
    if (op.path.startsWith("/api/stock/")) {
      if (op.path.endsWith("/take") && body.length > this.data.stock) return refuse("not-enough-stock");
      this.data.stock += op.path.endsWith("/take") ? -body.length : body.length;
      return { status: 200, body: { item: { on_hand: this.data.stock } } };
    }
    const [, , , id, what, name] = op.path.split("?")[0].split("/");
    const job = jobs[id];
    if (!job) return refuse("no-job", 404);
    if (what === "photos") {
      job.notes.push(body);
      return { status: 201, body: { photo: { id: `${job.notes.length}` } } };
    }
    if (what === "sections") {
      const now = job.sections[name]?.revision ?? 0;
      if (body.base_revision !== now) return refuse("section-changed", 409, { current: copy(job.sections[name] ?? null) });
      if (body.data.text === "bad") return refuse("bad-section", 422);
      job.sections[name] = { revision: now + 1, data: body.data, who: body.who };
      return { status: 200, body: { id } };
    }
    if (body.action === "note") {
      job.notes.push(body);
      return { status: 200, body: { event: body } };
    }
    if (job.steps[body.step]) return refuse("already-marked");
    if (STEPS.slice(0, STEPS.indexOf(body.step)).some((step) => !job.steps[step])) return refuse("out-of-order");
    job.steps[body.step] = body;
    return { status: 200, body: { event: body } };
  }
}

/** A phone's disk: what was written before the page died is there afterwards. */
export class Disk {
  constructor() {
    this.operations = new Map();
    this.settings = new Map();
    this.seq = 0;
  }
}

/** Storage as the page has it while it lives; a dead page's calls never come back. */
export function storageOn(disk, life) {
  const step = async (work) => {
    await life.pulse();
    const result = work();
    await life.pulse();
    return result ?? null;
  };
  return {
    add: (op) => step(() => { const kept = Object.freeze({ ...op, seq: ++disk.seq }); disk.operations.set(op.key, kept); return kept; }),
    all: () => step(() => [...disk.operations.values()].map(reading)),
    update: (key, change) => step(() => {
      const old = disk.operations.get(key);
      if (!old) return null;
      const fresh = change(reading(old));
      if (fresh === null) disk.operations.delete(key);
      else disk.operations.set(key, Object.freeze(fresh));
      return fresh;
    }),
    meta: (name) => step(() => disk.settings.get(name)),
    setMeta: (name, value) => step(() => { disk.settings.set(name, value); }),
    renew: (generation, change) => step(() => {
      disk.settings.set("generation", generation);
      for (const [key, op] of disk.operations) disk.operations.set(key, change(reading(op)));
    }),
  };
}
