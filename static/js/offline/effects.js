// What an operation does to the answers this phone has kept, so that screens show what was done.
// The same effects are shown while an operation waits and kept once the laptop has acknowledged it.

const LENGTH_LOST = { text: "not known until the laptop answers" };
const parsed = (op) => (typeof op.body === "string" ? JSON.parse(op.body) : {});
export const isUnsent = (op) => op.state === "waiting" || op.state === "refused";
const iso = (at) => new Date(at).toISOString();
const idText = (id) => `${id.slice(0, 4)}-${id.slice(4)}`;
const upTo = (inches) => ({ in: inches, mm: inches * 25.4, text: `${(Math.floor(inches * 1000) / 1000).toFixed(3)} in`, exact: `${inches} in` });

/** The id in what a person typed or scanned, as far as its shape tells; its check is the laptop's. */
export const plainId = (text) => {
  const found = decodeURIComponent(text).toUpperCase().match(/(?:^|[^0-9A-Z])([2-9A-HJKMNP-Z]{4})[\s-]*([2-9A-HJKMNP-Z]{4})(?:$|[^0-9A-Z])/);
  return found ? found[1] + found[2] : null;
};

/** The address under which an answer is kept: ids are kept in one spelling. */
export function keptPath(path) {
  const found = path.match(/^(\/api\/(?:records|jobs)\/)([^/?]+)(.*)$/);
  const id = found && plainId(found[2]);
  return id ? found[1] + id + found[3] : path;
}

export const recordOf = (path, body) => path.match(/^\/api\/(?:jobs|records)\/([^/?]+)/)?.[1] ?? (path.startsWith("/api/stock") ? "stock" : body?.id ?? "other");

function head(op) {
  const { id, title, who } = parsed(op);
  return { id, id_text: idText(id), title, state: "open", created_at: iso(op.made_at), created_by: who, demo: false, record: null, unsent: true };
}

const JOB_EFFECTS = [
  [/\/sections\/([a-z]+)$/, (job, op, [, name]) => {
    const { base_revision, data, who } = parsed(op);
    return { ...job, sections: { ...job.sections, [name]: { revision: base_revision + 1, data, at: iso(op.made_at), who, unsent: true } } };
  }],
  [/\/steps$/, (job, op, _) => {
    const event = parsed(op);
    // The laptop may have it already and only its answer was lost.
    if (job.steps.some((one) => one.step === event.step && one.action === event.action && one.when === event.when && one.who === event.who)) return job;
    return { ...job, steps: [...job.steps, { id: null, value: null, reason: null, ...event, at: iso(op.made_at), unsent: true }] };
  }],
  [/\/photos\?/, (job, op) => {
    const asked = new URLSearchParams(op.path.split("?")[1]);
    return { ...job, photos: [...(job.photos ?? []), { id: null, key: op.key, step: asked.get("step"), who: asked.get("who"), when: asked.get("when"), unsent: true }] };
  }],
];

/** A job with the effects of `operations` on it. */
export function jobWith(base, id, operations) {
  let job = base;
  for (const op of operations.filter(isUnsent)) {
    if (op.path === "/api/jobs" && parsed(op).id === id) job ??= { ...head(op), finished: false, sections: {}, steps: [], photos: [] };
    if (!job || !op.path.startsWith(`/api/jobs/${id}/`)) continue;
    for (const [pattern, effect] of JOB_EFFECTS) {
      const found = op.path.match(pattern);
      if (found) job = effect(job, op, found);
    }
  }
  return job;
}

export function jobsWith(base, operations) {
  const made = operations.filter((op) => isUnsent(op) && op.path === "/api/jobs").map(head).reverse();
  const there = base?.jobs ?? [];
  return base || made.length ? { jobs: [...made.filter((job) => !there.some((one) => one.id === job.id)), ...there] } : null;
}

/** The rack with what was taken, put back and added here. `inches` reads a typed length, null where it cannot. */
export function stockWith(base, operations, inches) {
  if (!base) return null;
  let items = base.items;
  for (const op of operations.filter(isUnsent)) {
    const found = op.path.match(/^\/api\/stock(?:\/(\d+)(?:\/(take|return|adjust))?)?$/);
    if (!found) continue;
    const body = parsed(op);
    const [, id, what] = found;
    const length = body.length === undefined ? null : inches(body.length);
    if (!id) {
      const size = (typed) => ({ typed, in: inches(typed) });
      const about = Object.fromEntries(["heat_number", "certificate", "location", "note"].map((name) => [name, body[name] ?? ""]));
      items = [...items, { id: `unsent-${op.key}`, ...about, od: size(body.od), wall: size(body.wall), material: body.material, seam: body.seam ?? "unknown", on_hand: { in: 0, text: body.length }, unsent: true }];
      continue;
    }
    const moved = (item) => {
      if (length === null) return { in: 0, ...LENGTH_LOST };
      return upTo(what === "adjust" ? length : Math.max(0, item.on_hand.in + (what === "take" ? -length : length)));
    };
    items = items.map((item) => (item.id !== Number(id) ? item : what ? { ...item, on_hand: moved(item), unsent: true } : { ...item, ...body, unsent: true }));
  }
  return { items };
}

export function recordWith(base, id, operations) {
  if (!base) return null;
  const added = operations.filter((op) => isUnsent(op) && op.path === `/api/records/${id}/amendments`).map(parsed);
  const amendments = added.map(({ who, text }, n) => ({ number: base.amendments.length + n + 1, who, text, at: "", unsent: true }));
  return added.length ? { ...base, amendments: [...base.amendments, ...amendments] } : base;
}

/** Put an acknowledged operation's answer into what is kept. */
export async function absorb(op, answer, answers) {
  const change = async (path, part) => {
    const kept = await answers.get(path);
    if (kept) await answers.put(path, part(kept.data));
  };
  const jobPath = `/api/jobs/${op.record}`;
  if (op.path === "/api/jobs") {
    await answers.put(`/api/jobs/${answer.id}`, answer);
    const { sections, steps, photos, finished, ...line } = answer;
    await change("/api/jobs", (list) => ({ jobs: [line, ...list.jobs.filter((job) => job.id !== answer.id)] }));
  } else if (op.path.includes("/sections/")) {
    await answers.put(jobPath, answer);
  } else if (op.path.endsWith("/steps")) {
    await change(jobPath, (job) => (job.steps.some((one) => one.id === answer.event.id) ? job : { ...job, steps: [...job.steps, answer.event], finished: answer.state.finished }));
    await change(`${jobPath}/checklist`, (kept) => ({ ...kept, state: answer.state }));
  } else if (op.path.includes("/photos?")) {
    await change(jobPath, (job) => ({ ...job, photos: [...(job.photos ?? []).filter((one) => one.id !== answer.photo.id), answer.photo] }));
  } else if (op.path.startsWith("/api/records/")) {
    await answers.put(`/api/records/${answer.id}`, answer);
  } else if (op.path.startsWith("/api/stock")) {
    const item = answer.item ?? answer;
    await change("/api/stock", ({ items }) => ({ items: items.some((one) => one.id === item.id) ? items.map((one) => (one.id === item.id ? item : one)) : [...items, item] }));
  }
}
