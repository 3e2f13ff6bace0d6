// Sleeve: what is on the rack and fits the method, then sizes that could be bought, then any other size.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ask, get } from "../api.js";
import { LengthField } from "../lengthfield.js";
import { Bar, Check, Choices, Defer, Problem, SelectField, Tag, useLoad } from "../parts.js";
import { useSection } from "./job.js";

const WITH_ENDS = ["outer-sleeve", "larger-tube", "split-sleeve"];
// What the length needed of a bar hangs on, where the job knows it: measured, or typed at Size.
const LENGTHS = { "inner-sleeve": ["gap", "bead"], "larger-tube": ["opening"], "split-sleeve": ["damage_length"], patch: ["damage_length", "margin"] };
const TITLES = { "inner-sleeve": "Inner sleeve stock", "larger-tube": "Replacement tube stock", patch: "Patch stock" };

export async function rankedStock(job) {
  const { method, end, mitre_deg, sleeves } = job.sections.choose.data;
  const measured = job.sections.measure.data;
  const sized = job.sections.size?.data;
  const known = { ...measured, ...(sized?.method === method && sized) };
  const [{ items }, words] = await Promise.all([get("/api/stock"), get("/api/choices")]);
  const rows = items.map((item) => ({ id: item.id, od: item.od.typed, wall: item.wall.typed, material: item.material, seam: item.seam, on_hand: `${item.on_hand.in} in`,
    heat_number: item.heat_number, certificate: item.certificate, location: item.location, note: item.note }));
  const question = { tube: measured.tube, method, items: rows };
  if (WITH_ENDS.includes(method)) Object.assign(question, { end, sleeves });
  if (method !== "patch") question.mitre_deg = mitre_deg;
  for (const name of LENGTHS[method] || []) if (known[name]) question[name] = known[name];
  return { ...(await ask("/api/stock/candidates", question)), words };
}

export function Sleeve({ job, setJob, next }) {
  const ready = job.sections.measure && job.sections.choose;
  const [ranked] = useLoad(() => (ready ? rankedStock(job) : Promise.resolve(null)), [job.sections.measure?.revision, job.sections.choose?.revision, job.sections.size?.revision]);
  const { data, change, save, trouble, sealed } = useSection(job, setJob, "stock", { from: "", item: null, od: "", wall: "", material: "", seam: "unknown" });
  const [other, setOther] = useState(data.from === "other");
  if (!ready) return html`<p class="note">Measure the tube and choose the method first.</p><a class="button main full" href=${`/job/${job.id}/method`}>Go to Method</a>`;
  if (!ranked.data) return html`<${Problem} trouble=${ranked.trouble} />`;
  const pick = (entry, from) => change({ from, item: entry.id ?? null, od: entry.od, wall: entry.wall, material: entry.material, seam: entry.seam,
    heat_number: entry.heat_number || "", certificate: entry.certificate || "", standing: entry.standing, turned_od: entry.turned_od || "" });
  const isPicked = (entry, from) => data.from === from && data.item === (entry.id ?? null) && data.od === entry.od && data.wall === entry.wall;
  const complete = data.od?.trim() && data.wall?.trim() && data.material;
  const { method } = job.sections.choose.data;
  const card = (from) => (entry) => html`<${Candidate} key=${`${from}${entry.id ?? ""}${entry.od}${entry.wall}`} entry=${entry} picked=${isPicked(entry, from)} method=${method} onPick=${() => pick(entry, from)} />`;
  const { on_hand: rack, could_buy: buy, note, needs_note, options, words } = ranked.data;
  return html`
    <h1>${TITLES[method] || "Sleeve stock"}</h1>
    <${Problem} trouble=${trouble} />
    ${note && html`<p class="caution">${note}</p>`}
    ${needs_note && html`<p class="note">${needs_note}</p>`}
    <h2>On the rack</h2>
    ${rack.length ? rack.map(card("rack")) : html`<p>Nothing on the rack is near this size. <a href="/rack">Add tube to the rack</a>.</p>`}
    <h2>Could buy</h2>
    ${buy.length ? html`<p class="quiet">Usual sizes; what a supplier has varies.</p>` : html`<p>No usual size fits.</p>`}
    ${buy.map(card("buy"))}
    <${Ways} options=${options} />
    <h2>Another size</h2>
    ${!other ? html`<button class="full" onClick=${() => { setOther(true); change({ from: "other", item: null, seam: "unknown", turned_od: "" }); }}>Type a size</button>` : html`<div class="card">
      <${LengthField} id="sleeve-od" name="Sleeve outside diameter" role="diameter" value=${data.od} onChange=${(od) => change({ od, from: "other", item: null, turned_od: "" })} />
      <${LengthField} id="sleeve-wall" name="Sleeve wall" role="wall" value=${data.wall} onChange=${(wall) => change({ wall, from: "other", item: null, turned_od: "" })} />
      <${SelectField} id="sleeve-material" name="Sleeve material" value=${data.material} options=${words.materials} onChange=${(material) => change({ material, from: "other", item: null, turned_od: "" })} />
      <${Choices} name="sleeve-seam" legend="Weld seam inside the sleeve" value=${data.seam} options=${words.seams.map((s) => ({ key: s.key, name: s.text }))} onChange=${(seam) => change({ seam })} />
    </div>`}
    <${Defer} />
    <${Bar} missing=${complete ? `Chosen: ${data.od} × ${data.wall}` : "Still missing: a sleeve."}>
      <button class="main full" disabled=${!complete || sealed} onClick=${async () => (await save()) && next()}>${sealed ? "Sealed" : "Save, size the sleeve"}</button>
    <//>`;
}

function Candidate({ entry, picked, method, onPick }) {
  const clearance = method === "patch" ? "Bore less the tube's diameter" : "Clearance";
  return html`<section class=${`card ${picked ? "pick" : ""}`}>
    <div class="row spread"><h3>${entry.size}</h3><${Tag} word=${entry.standing} /></div>
    <p>${entry.material_name}${entry.heat_number ? `, heat ${entry.heat_number}` : ""}${entry.location ? `, ${entry.location}` : ""}</p>
    <p>${entry.why}</p>
    <dl class="numbers">
      <dt>${clearance}, as drawn</dt><dd>${entry.clearance.nominal.text}</dd>
      <dt>${clearance}, worst case</dt><dd>${entry.clearance.lowest.text} to ${entry.clearance.highest.text}</dd>
      ${entry.on_hand && html`<dt>On hand</dt><dd>${entry.on_hand.text}</dd>`}
      ${entry.turned_od && html`<dt>Turn down to</dt><dd>${entry.turned_od}</dd>`}
      <dt>Needs</dt><dd>${entry.needs ? entry.needs.text : "not known"}</dd>
    </dl>
    <details><summary>Every rule</summary>${entry.checks.map((c) => html`<${Check} key=${c.id} check=${c} />`)}</details>
    <button class=${`full ${picked ? "main" : ""}`} aria-pressed=${picked} onClick=${onPick}>${picked ? "✓ Chosen" : "Choose this"}</button>
  </section>`;
}

/** Every way to a tube that fits, also those that miss a rule. */
export function Ways({ options }) {
  if (!options?.length) return null;
  return html`<h2>Ways to make it fit</h2><ul>${options.map((o) => html`<li key=${`${o.way}${o.size}`}><b>${o.way}, ${o.size}: ${o.standing}.</b> ${o.text} ${o.cost}</li>`)}</ul>`;
}
