// Operations in words, for people.

const SECTIONS = { measure: "Measure", choose: "Method", stock: "Sleeve", size: "Size", assess: "Assess", make: "Make" };
const ACTIONS = { done: "Step done", skip: "Step skipped", undo: "Step reopened", note: "Note at a step" };

export function ago(ms) {
  const minutes = Math.floor(Math.max(0, ms) / 60_000);
  if (minutes < 1) return "just now";
  if (minutes < 60) return `${minutes} min ago`;
  const hours = Math.floor(minutes / 60);
  return hours < 48 ? `${hours} h ${minutes % 60} min ago` : `${Math.floor(hours / 24)} days ago`;
}

export function whatOf(op) {
  const body = typeof op.body === "string" ? JSON.parse(op.body) : {};
  const found = (pattern) => op.path.match(pattern);
  if (op.path === "/api/jobs") return `Job started: ${body.title}`;
  if (found(/\/sections\//)) return `${SECTIONS[op.path.split("/").pop()]} saved`;
  const step = (op.about.text ?? body.step ?? "").replace(/\.$/, "");
  if (found(/\/steps$/)) return `${ACTIONS[body.action]}: ${step}${body.value ? `: ${body.value}` : ""}`;
  if (found(/\/photos\?/)) return step ? `Photo: ${step}` : "Photo";
  if (found(/\/amendments$/)) return `Correction: ${body.text}`;
  const item = found(/^\/api\/stock\/(\d+)/)?.[1];
  if (found(/\/take$/)) return `${body.length} taken off bar ${item}`;
  if (found(/\/return$/)) return `${body.length} put back on bar ${item}`;
  if (found(/\/adjust$/)) return `Bar ${item} counted: ${body.length}`;
  return item ? `Note beside bar ${item}` : `Tube added to the rack: ${body.od} × ${body.wall}, ${body.length}`;
}

export const whereOf = (op) => (op.record === "stock" ? "Rack" : `Job ${op.record.slice(0, 4)}-${op.record.slice(4)}`);

export function stateOf(op) {
  if (op.state === "dropped") return "Dropped";
  if (op.state === "sent") return "Sent";
  if (op.state === "refused") return "Refused: your decision";
  return op.tries ? `Tried ${op.tries} time${op.tries > 1 ? "s" : ""}` : "Waiting";
}

export const lastOf = (op) => (op.last ? `Last answer: ${op.last.problem?.title ?? op.last.what}${op.last.status ? ` (${op.last.status})` : ""}` : "Not tried yet");
