// Random schedules for the real outbox.js: node fuzz_outbox.mjs OUTBOX SCHEDULES SEED
import { pathToFileURL } from "node:url";
import { Disk, Laptop, storageOn, textOf } from "./model_server.mjs";

const [file, schedules, firstSeed] = [process.argv[2], Number(process.argv[3]), Number(process.argv[4])];
const { createOutbox } = await import(pathToFileURL(file));
const happened = {};
const count = (what) => { happened[what] = (happened[what] ?? 0) + 1; };

function generator(seed) {
  let state = seed >>> 0;
  return () => {
    // mulberry32, public domain.
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

const NEVER = new Promise(() => {});
const HTML = { status: 200, kind: "text/html", echo: null, body: null };

class Phone {
  constructor(world, name) {
    Object.assign(this, { world, name, disk: new Disk(), jump: 0, promised: [], saw: new Map() });
    this.wake();
  }

  /** A page loads: a new outbox over the same disk. */
  wake() {
    const { world } = this;
    const life = { dead: false, pulse: async () => { if (life.dead) await NEVER; if (world.rough && world.random() < 0.004) this.die(life, "page died at its disk"); if (life.dead) await NEVER; } };
    this.life = life;
    this.died = new Promise((resolve) => { life.over = resolve; });
    this.outbox = createOutbox({
      storage: storageOn(this.disk, life), transport: (op) => this.send(op, life), clock: () => world.laptop.time + this.jump,
      random: { hex: (n) => Array.from({ length: n }, () => Math.floor(world.random() * 256).toString(16).padStart(2, "0")).join(""), part: world.random },
    });
  }

  die(life, what) {
    if (life.dead) return;
    count(what);
    life.dead = true;
    life.over();
  }

  /** Let the page work until it is done or dies; then load it again. */
  async run(work) {
    const life = this.life;
    const result = await Promise.race([work(), this.died]);
    if (life.dead) this.wake();
    return life.dead ? undefined : result;
  }

  async send(op, life) {
    const { world } = this;
    const { laptop, random } = world;
    const luck = world.rough ? random() : 1;
    const handle = () => laptop.take(op);
    const gone = (what) => { count(what); throw new Error(what); };
    if (luck < 0.08) gone("request lost");
    if (luck < 0.18) { handle(); gone("answer lost"); }
    if (luck < 0.24) { world.late.push(handle); gone("request delayed"); }
    if (luck < 0.28) { count("request doubled"); handle(); return handle(); }
    if (luck < 0.33) { count("500"); return { status: 500, kind: "application/problem+json", echo: null, body: { type: "urn:pitsplice:problem:internal" } }; }
    if (luck < 0.35) { count("429"); return { status: 429, kind: "application/problem+json", echo: null, body: { type: "urn:pitsplice:problem:too-many-tries" }, retryAfter: 3 }; }
    if (luck < 0.41) { count("captive portal"); return HTML; }
    if (luck < 0.43) { count("another program's JSON"); return { status: 200, kind: "application/json", echo: null, body: {} }; }
    if (luck < 0.45) { count("not paired"); return { status: 401, kind: "application/problem+json", echo: null, body: { type: "urn:pitsplice:problem:not-paired" } }; }
    if (luck < 0.48) { handle(); this.die(life, "page died in a request"); return NEVER; }
    const answer = handle();
    if (answer.status >= 400) count(answer.body.title);
    if (luck < 0.52) {
      // The laptop goes back to a backup while its answer is under way, and the phone hears of it first.
      world.restore();
      await this.outbox.sawLaptop(laptop.health());
      count("restore during an answer");
    }
    return answer;
  }

  async press() {
    const { world } = this;
    const { random } = world;
    const job = world.jobs[Math.floor(random() * world.jobs.length)];
    const who = this.name;
    const kind = random();
    let op, own;
    if (kind < 0.12) {
      const id = `J${world.jobs.length}${this.name}`;
      op = { method: "POST", path: "/api/jobs", record: id, body: { id, who } };
      world.jobs.push(id);
    } else if (kind < 0.45) {
      const path = `/api/jobs/${job}/sections/${random() < 0.5 ? "size" : "stock"}`;
      const mine = [...this.disk.operations.values()].filter((one) => one.path === path && one.state !== "sent" && one.state !== "dropped");
      const there = world.laptop.data.jobs[job]?.sections[path.split("/").pop()]?.revision ?? 0;
      const base = mine.length ? JSON.parse(mine.at(-1).body).base_revision + 1 : random() < 0.8 ? there : Math.max(0, there - 1);
      own = mine.at(-1)?.key;
      op = { method: "PUT", path, record: job, body: { base_revision: base, data: { text: random() < 0.05 ? "bad" : `${random()}` }, who } };
    } else if (kind < 0.5) {
      count("photo");
      op = { method: "POST", path: `/api/jobs/${job}/photos?step=a`, record: job, body: { photo: JSON.stringify({ who, when: `${random()}` }) } };
    } else if (kind < 0.75) {
      op = { method: "POST", path: `/api/jobs/${job}/steps`, record: job, body: { step: "abcdef"[Math.floor(random() * 6)], action: "done", who, when: `${random()}` } };
    } else {
      op = { method: "POST", path: `/api/stock/1/${random() < 0.7 ? "take" : "return"}`, record: "stock", body: { length: Math.ceil(random() * 6), who, reason: `${random()}` } };
    }
    const kept = await this.run(() => this.outbox.add({ ...op, body: op.body.photo ? op.body : JSON.stringify(op.body) }));
    // Only a write whose add() came back was promised to the person.
    if (!kept) return;
    this.promised.push(kept.key);
    if (op.method === "PUT") this.saw.set(kept.key, own ? this.saw.get(own) : op.body.base_revision);
  }

  async decide() {
    const { random } = this.world;
    const refused = [...this.disk.operations.values()].filter((op) => op.state === "refused");
    if (!refused.length) return;
    const op = refused[Math.floor(random() * refused.length)];
    if (["internal", "too-many-tries", "not-paired"].some((kind) => op.problem.type.endsWith(kind))) throw new Error(`no refusal, but kept as one: ${op.problem.type}`);
    const choice = random();
    await this.run(async () => {
      const { outbox } = this;
      if (op.problem.title === "section-changed") {
        // The person has both values on the screen, and so have the saves built on this one.
        const later = [...this.disk.operations.values()].filter((one) => one.path === op.path && one.seq >= op.seq);
        for (const one of later) this.saw.set(one.key, op.problem.current?.revision ?? 0);
      }
      if (op.problem.title === "section-changed" && choice < 0.6) return outbox.onTop(op.key, choice < 0.2 ? { text: "edited" } : undefined);
      if (op.path.endsWith("/steps") && choice < 0.5) return outbox.asNote(op.key);
      if (choice < 0.75) return outbox.sendAgain(op.key);
      count("dropped");
      return outbox.drop(op.key, "not needed");
    });
  }

  ping = () => this.run(() => this.outbox.sawLaptop(this.world.laptop.health()));
  // As the page does it: the laptop is asked which data it has, then the list is sent.
  flush = (force) => this.run(async () => {
    await this.outbox.sawLaptop(this.world.laptop.health());
    return this.outbox.flush({ force });
  });
}

class World {
  constructor(seed) {
    this.random = generator(seed);
    this.laptop = new Laptop();
    this.laptop.backup();
    this.jobs = ["J0"];
    this.laptop.data.jobs.J0 = { sections: {}, steps: {}, notes: [] };
    this.laptop.backups = [];
    this.laptop.backup();
    this.late = [];
    this.rough = true;
    this.phones = [new Phone(this, "ann"), new Phone(this, "bo")];
  }

  restore() {
    if (this.random() < 0.5) return;
    // A request under way dies with the process that would have handled it.
    this.late = [];
    this.laptop.restore(this.random);
    count("restore");
  }

  async act() {
    const { random, laptop } = this;
    const phone = this.phones[random() < 0.5 ? 0 : 1];
    const what = random();
    laptop.time += Math.floor(random() * 20_000);
    if (what < 0.3) await phone.press();
    else if (what < 0.65) await phone.flush(random() < 0.3);
    else if (what < 0.73) await phone.decide();
    else if (what < 0.83) await phone.ping();
    else if (what < 0.87) { count("clock jump"); phone.jump = Math.floor((random() - 0.5) * 2 * 40 * 86400_000); }
    else if (what < 0.91) { phone.die(phone.life, "page reloaded"); phone.wake(); }
    else if (what < 0.94 && this.late.length) { count("late arrival"); this.late.splice(Math.floor(random() * this.late.length), 1)[0](); }
    else if (what < 0.97) laptop.backup();
    else { count("restart"); this.late = []; if (random() < 0.3) this.restore(); }
  }

  /** Quiet at the end: the network works and a person settles what was refused. */
  async settle() {
    this.rough = false;
    this.late = [];
    for (let turn = 0; turn < 60; turn += 1) {
      const open = this.phones.flatMap((phone) => [...phone.disk.operations.values()]).filter((op) => op.state === "waiting" || op.state === "refused");
      if (turn > 1 && !open.length) return;
      for (const phone of this.phones) {
        await phone.ping();
        await phone.flush(true);
        for (let n = 0; turn > 1 && n < 5; n += 1) await phone.decide();
      }
    }
  }

  check() {
    const { journal } = this.laptop.data;
    const places = new Map();
    journal.forEach((entry, place) => {
      if (places.has(entry.key)) throw new Error(`doubled: ${entry.path}`);
      places.set(entry.key, place);
    });
    if (this.laptop.generations === 1) this.nobodyWentOverAnotherInSilence();
    for (const phone of this.phones) {
      const list = [...phone.disk.operations.values()].sort((a, b) => a.seq - b.seq);
      const open = list.filter((op) => op.state !== "sent" && op.state !== "dropped");
      if (open.length) throw new Error(`never settled: ${open[0].path} ${open[0].state} ${open[0].problem?.title}`);
      for (const key of phone.promised) if (!phone.disk.operations.has(key)) throw new Error(`promised and gone: ${key}`);
      const last = new Map();
      for (const op of list) {
        if (op.state === "dropped" && !(op.dropped_because.length >= 3)) throw new Error("dropped in silence");
        if (op.state !== "sent") continue;
        if (!places.has(op.key)) throw new Error(`acknowledged and lost: ${op.path}`);
        if (journal[places.get(op.key)].body !== textOf(op.body)) throw new Error(`another body was kept: ${op.path}`);
        if (places.get(op.key) < (last.get(op.record) ?? -1)) throw new Error(`out of order in ${op.record}: ${op.path}`);
        last.set(op.record, places.get(op.key));
      }
    }
  }

  /** No save may land on another phone's save that its person has not seen. */
  nobodyWentOverAnotherInSilence() {
    const before = new Map();
    for (const { key, path, body } of this.laptop.data.journal) {
      if (!path.includes("/sections/")) continue;
      const { who } = JSON.parse(body);
      const [count, other] = before.get(path) ?? [0, who];
      const { saw } = this.phones.find((one) => one.name === who);
      before.set(path, [count + 1, who]);
      if (other !== who && saw.get(key) < count) throw new Error(`another's save was covered unseen: ${path}`);
    }
  }
}

let operations = 0;
for (let seed = firstSeed; seed < firstSeed + schedules; seed += 1) {
  const world = new World(seed);
  try {
    const actions = 15 + Math.floor(world.random() * 35);
    for (let n = 0; n < actions; n += 1) await world.act();
    await world.settle();
    world.check();
  } catch (trouble) {
    console.log(JSON.stringify({ failed: trouble.message, seed }));
    process.exit(1);
  }
  operations += world.phones.reduce((sum, phone) => sum + phone.disk.operations.size, 0);
}
console.log(JSON.stringify({ schedules, operations, happened }));
