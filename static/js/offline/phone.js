// What this phone keeps and sends, put together once. Where the browser keeps nothing, `outbox`
// and `answers` are null and every write goes straight to the laptop.
import { answersIn, openDatabase, operationsIn } from "./database.js";
import { absorb, keptPath } from "./effects.js";
import { createChecks } from "./mirror.js";
import { createOutbox } from "./outbox.js";
import { status, tell } from "./status.js";
import { createSync } from "./sync.js";
import { WRITE_MS, call, randomHex } from "./wire.js";

// What every job needs, fetched once so that a job can be started with the laptop gone.
const WARM = ["/api/choices", "/api/rules", "/api/jobs", "/api/stock"];

async function build() {
  const db = await openDatabase();
  const phone = { outbox: null, answers: null, checks: null, arrived: new Map() };
  tell({ keeps: Boolean(db) });
  if (db) {
    const storage = operationsIn(db);
    const others = "BroadcastChannel" in window ? new BroadcastChannel("pitsplice") : null;
    let wishes = 0;
    // A change in the middle of a reading asks for another one: the last word on the screen is the last on disk.
    const readList = async () => {
      const mine = ++wishes;
      const all = await storage.all();
      if (mine === wishes) tell({ operations: all.filter((op) => op.state !== "sent" || op.notice) });
    };
    if (others) others.onmessage = readList;
    phone.answers = answersIn(db);
    phone.storage = storage;
    phone.outbox = createOutbox({
      storage,
      transport: (op) => call(op.method, op.path, { body: op.body ?? undefined, key: op.key, type: op.type, limit: WRITE_MS }),
      clock: Date.now,
      random: { hex: randomHex, part: Math.random },
      onSent: async (op, body) => {
        phone.arrived.set(op.key, body);
        await absorb(op, body, phone.answers);
      },
      onChange: () => { readList(); others?.postMessage("changed"); },
    });
    phone.checks = createChecks({
      storage,
      askLaptop: (path, body) => call(body === null ? "GET" : "POST", path, { body: body === null ? undefined : JSON.stringify(body) })
        .then((answer) => (answer.body ? { ok: answer.ok, data: answer.body } : null), () => null),
    });
    await Promise.all([readList(), phone.checks.start(), storage.meta("persisted").then((persisted) => tell({ persisted: persisted ?? null }))]);
  }
  const refresh = (path) => call("GET", path).then((answer) => answer.ok && answer.body && phone.answers?.put(keptPath(path), answer.body), () => {});
  phone.sync = createSync({
    outbox: phone.outbox,
    onReached: async () => {
      if (!phone.answers) return;
      await Promise.all(WARM.map(refresh));
      await phone.checks.again();
      dispatchEvent(new Event("laptop-answers"));
    },
    onSent: async () => dispatchEvent(new Event("laptop-answers")),
  });
  return phone;
}

export const ready = build();

/** Ask the browser, once, not to throw the data away when the phone is short of room. */
export async function askToPersist(phone) {
  if (status().persisted !== null || !navigator.storage?.persist) return;
  const persisted = await navigator.storage.persist().catch(() => false);
  tell({ persisted });
  await phone.storage.setMeta("persisted", persisted);
}
