// Two people saved the same section: both values side by side, and a person decides.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ready } from "../offline/phone.js";
import { when } from "../parts.js";

/** The leaves of a section's data by their path. */
export function leaves(value, path = []) {
  if (value !== null && typeof value === "object") return Object.entries(value).flatMap(([name, part]) => leaves(part, [...path, name]));
  return [[path.join("."), value]];
}

/** A copy of `data` with the leaf at `path` set. */
export function withLeaf(data, path, value) {
  const [name, ...rest] = path.split(".");
  const copy = Array.isArray(data) ? [...data] : { ...data };
  if (rest.length) copy[name] = withLeaf(copy[name] ?? {}, rest.join("."), value);
  else if (value === undefined) delete copy[name];
  else copy[name] = value;
  return copy;
}

/** The rows where the two differ: path, theirs, mine. */
export function different(theirs, mine) {
  const [there, here] = [new Map(leaves(theirs)), new Map(leaves(mine))];
  return [...new Set([...here.keys(), ...there.keys()])].filter((path) => there.get(path) !== here.get(path)).map((path) => ({ path, theirs: there.get(path), mine: here.get(path) }));
}

export const words = (value) => (value === undefined || value === "" || value === null ? "nothing" : String(value));
const NAMES = { od: "outside diameter", seam: "weld seam" };
export const named = (path) => path.split(".").map((part) => NAMES[part] ?? part.replaceAll("_", " ")).join(", ");

export function Conflict({ op }) {
  const current = op.problem.current ?? { data: {}, who: "nobody", at: "" };
  const body = JSON.parse(op.body);
  const rows = different(current.data, body.data);
  const [picked, setPicked] = useState({});
  const edited = rows.reduce((data, row) => withLeaf(data, row.path, picked[row.path] === undefined ? row.mine : picked[row.path].value), body.data);
  const settle = (work) => async () => {
    const { outbox, sync } = await ready;
    await work(outbox);
    await sync.sendNow();
  };
  const pick = (row, value) => setPicked({ ...picked, [row.path]: { value } });
  const typed = (row, text) => pick(row, typeof row.mine === "number" && text.trim() !== "" && Number.isFinite(Number(text)) ? Number(text) : text);
  const chosen = (row) => (picked[row.path] === undefined ? row.mine : picked[row.path].value);
  return html`<div class="conflict">
    <p><b>${current.who} saved this section ${current.at ? `on ${when(current.at)}, ` : ""}after you opened it.</b> Nothing is overwritten until you decide.</p>
    ${rows.map((row) => html`<fieldset key=${row.path}>
      <legend class="legend">${named(row.path)}</legend>
      <div class="choices four">
        <label class="choice"><input type="radio" name=${`${op.key}${row.path}`} checked=${chosen(row) === row.theirs} onChange=${() => pick(row, row.theirs)} /><span><small>Theirs</small><b>${words(row.theirs)}</b></span></label>
        <label class="choice"><input type="radio" name=${`${op.key}${row.path}`} checked=${chosen(row) === row.mine} onChange=${() => pick(row, row.mine)} /><span><small>Mine</small><b>${words(row.mine)}</b></span></label>
      </div>
      ${typeof (row.mine ?? row.theirs) !== "boolean" && html`<label class="quiet" for=${`edit${op.key}${row.path}`}>Or type it</label>
        <input id=${`edit${op.key}${row.path}`} type="text" autocomplete="off" value=${chosen(row) === row.theirs || chosen(row) === row.mine ? "" : words(chosen(row))} onInput=${(event) => typed(row, event.target.value)} />`}
    </fieldset>`)}
    ${!rows.length && html`<p>Both are the same.</p>`}
    <div class="homebuttons">
      <button onClick=${settle((outbox) => outbox.drop(op.key, `Took what ${current.who} saved.`))}>Take theirs, drop mine</button>
      <button onClick=${settle((outbox) => outbox.onTop(op.key))}>Put all of mine on top</button>
      <button class="main" disabled=${!Object.keys(picked).length} onClick=${settle((outbox) => outbox.onTop(op.key, edited))}>Save what is picked above</button>
    </div>
  </div>`;
}
