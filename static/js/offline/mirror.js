// The phone's own sums: the mirror of the core, loaded only when the laptop does not answer.
// What it gives is provisional. The laptop is asked the same again, and a difference is shown.
import { Trouble, cannotCompute } from "../trouble.js";
import { status, tell } from "./status.js";

const DO = { "/api/size": "size", "/api/assess": "assess", "/api/stock/candidates": "candidates" };
const MOST_KEPT = 100;
const SAME = 1e-9;
// Said by one side only, or drawn.
const NOT_COMPARED = new Set(["provisional", "not_checked", "not_computed", "drawing"]);

let loading = null;

/** The mirror, or a Trouble that says that this phone cannot compute. */
export async function mirror() {
  loading ??= import("../core/index.js");
  try {
    return await loading;
  } catch {
    loading = null;
    throw cannotCompute();
  }
}

/** Run a function of the mirror; its problems are the laptop's problems. */
export async function compute(work) {
  const core = await mirror();
  try {
    return work(core);
  } catch (problem) {
    if (!(problem instanceof core.CoreProblem)) throw problem;
    throw new Trouble({ ...(problem.asDict?.() ?? { ...problem }), provisional: true }, problem.status ?? 422);
  }
}

export const canAnswer = (path) => path.split("?")[0] in DO || path.startsWith("/api/length?");

/** Answer a computation here, and keep it to be asked again. */
export async function answerHere(path, body, keep) {
  const question = { path, body: body ?? null, at: Date.now() };
  try {
    const result = await compute((core) => {
      if (!path.startsWith("/api/length?")) return core[DO[path.split("?")[0]]](body);
      const asked = new URLSearchParams(path.split("?")[1]);
      return core.readLength(asked.get("text") ?? "", { role: asked.get("role") ?? "length", unit: asked.get("unit") ?? "in", allowZero: asked.get("allow_zero") === "1" });
    });
    keep({ ...question, result });
    return { ...result, provisional: true };
  } catch (trouble) {
    if (trouble.body?.provisional) keep({ ...question, problem: trouble.body });
    throw trouble;
  }
}

/** Where two results differ: members of the phone's, with both values. */
export function differences(phone, laptop, where = "") {
  if (typeof phone === "number" && typeof laptop === "number") {
    return Math.abs(phone - laptop) <= SAME * Math.max(1, Math.abs(phone), Math.abs(laptop)) ? [] : [{ where, phone, laptop }];
  }
  if (phone === null || typeof phone !== "object") return phone === laptop ? [] : [{ where, phone, laptop }];
  if (laptop === null || typeof laptop !== "object" || Array.isArray(phone) !== Array.isArray(laptop) || (Array.isArray(phone) && phone.length !== laptop.length)) {
    return [{ where, phone, laptop }];
  }
  const named = (name) => [where, (Array.isArray(phone) && (phone[name]?.name ?? phone[name]?.key ?? phone[name]?.id)) || name].filter(Boolean).join(", ");
  return Object.keys(phone).filter((name) => !NOT_COMPARED.has(name)).flatMap((name) => differences(phone[name], laptop[name], named(name)));
}

/** What this phone computed while the laptop was away: kept on disk, so that a reload forgets nothing. */
export function createChecks({ storage, askLaptop }) {
  let line = Promise.resolve();
  const inLine = (work) => (line = line.then(work, work));
  const read = async (name) => (await storage.meta(name)) ?? [];
  const show = (list) => tell({ mismatches: list });
  return {
    start: async () => show(await read("mismatches")),
    keep: (question) => inLine(async () => {
      const text = JSON.stringify([question.path, question.body]);
      const old = (await read("provisional")).filter((one) => JSON.stringify([one.path, one.body]) !== text);
      await storage.setMeta("provisional", [...old, question].slice(-MOST_KEPT));
    }),
    /** Ask the laptop every kept question again. Stops where it does not answer. */
    again: () => inLine(async () => {
      let open = await read("provisional");
      for (const question of open) {
        const answer = await askLaptop(question.path, question.body);
        if (!answer) return;
        const phone = question.problem ? { problem: question.problem.title } : question.result;
        const laptop = answer.ok ? answer.data : { problem: answer.data.title };
        const found = differences(phone, laptop);
        if (found.length) {
          const list = [...status().mismatches, { path: question.path, body: question.body, at: question.at, found: found.slice(0, 20) }];
          await storage.setMeta("mismatches", list);
          show(list);
        }
        open = open.filter((one) => one !== question);
        await storage.setMeta("provisional", open);
      }
    }),
    dismiss: (entry) => inLine(async () => {
      const list = status().mismatches.filter((one) => one !== entry);
      await storage.setMeta("mismatches", list);
      show(list);
    }),
  };
}
