// What this phone keeps: its operations, what the laptop answered, and a few settings.
// Every write waits for the disk (durability "strict"): a flat battery right after "kept" loses nothing.
import { openDB } from "../../vendor/idb/index.js";

const STRICT = { durability: "strict" };
const MOST_COMPUTED = 200;

/** Open the database, or return null where the browser will not keep anything (a private window). */
export async function openDatabase(name = "pitsplice") {
  try {
    const db = await openDB(name, 1, {
      upgrade(fresh) {
        const operations = fresh.createObjectStore("operations", { keyPath: "seq", autoIncrement: true });
        operations.createIndex("key", "key", { unique: true });
        fresh.createObjectStore("answers").createIndex("at", "at");
        fresh.createObjectStore("meta");
      },
      // A newer page in another tab wants to change the database: this one lets go.
      blocking: (_, __, event) => event.target.close(),
    });
    await db.put("meta", Date.now(), "opened");
    return db;
  } catch {
    return null;
  }
}

/** The outbox's storage. */
export function operationsIn(db) {
  async function change(stores, work) {
    const tx = db.transaction(stores, "readwrite", STRICT);
    const done = tx.done;
    done.catch(() => {});
    const result = await work((name) => tx.objectStore(name));
    await done;
    return result;
  }
  return {
    add: (op) => change(["operations"], async (store) => ({ ...op, seq: await store("operations").add(op) })),
    all: () => db.getAll("operations"),
    update: (key, part) => change(["operations"], async (store) => {
      const operations = store("operations");
      const old = await operations.index("key").get(key);
      if (!old) return null;
      const fresh = part(old);
      if (fresh === null) await operations.delete(old.seq);
      else if (fresh !== old) await operations.put(fresh);
      return fresh;
    }),
    meta: (name) => db.get("meta", name),
    setMeta: (name, value) => change(["meta"], (store) => store("meta").put(value, name)),
    renew: (generation, part) => change(["meta", "operations"], async (store) => {
      await store("meta").put(generation, "generation");
      for (const op of await store("operations").getAll()) {
        const fresh = part(op);
        if (fresh !== op) await store("operations").put(fresh);
      }
    }),
  };
}

/** What the laptop answered: by address, for computations by address and input. */
export function answersIn(db) {
  const put = async (path, data) => {
    const tx = db.transaction("answers", "readwrite", STRICT);
    await tx.store.put({ data, at: Date.now() }, path);
    await tx.done;
  };
  return {
    get: (path) => db.get("answers", path),
    put,
    async putComputed(path, data) {
      await put(path, data);
      const tx = db.transaction("answers", "readwrite", STRICT);
      const keys = (await tx.store.index("at").getAllKeys()).filter((key) => key.startsWith("POST "));
      for (const key of keys.slice(0, Math.max(0, keys.length - MOST_COMPUTED))) await tx.store.delete(key);
      await tx.done;
    },
  };
}
