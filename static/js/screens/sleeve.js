// Sleeve: what is on the rack and fits, then sizes that could be bought, then any other size.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ask, get } from "../api.js";
import { LengthField } from "../lengthfield.js";
import { Bar, Check, Choices, Defer, Problem, SelectField, Tag, useLoad } from "../parts.js";
import { useSection } from "./job.js";

export async function rankedStock(job) {
  const { data: cut } = job.sections.choose;
  const measured = job.sections.measure.data;
  const [{ items }, words] = await Promise.all([get("/api/stock"), get("/api/choices")]);
  const rows = items.map((item) => ({ id: item.id, od: item.od.typed, wall: item.wall.typed, material: item.material, seam: item.seam, on_hand: `${item.on_hand.in} in`,
    heat_number: item.heat_number, certificate: item.certificate, location: item.location, note: item.note }));
  const ranked = await ask("/api/stock/candidates", { tube: measured.tube, end: cut.end, mitre_deg: cut.mitre_deg, sleeves: cut.sleeves, items: rows,
    ...(cut.method === "split-sleeve" && measured.damage_length && { gap: measured.damage_length }) });
  return { ...ranked, words };
}

export function Sleeve({ job, setJob, next }) {
  const ready = job.sections.measure && job.sections.choose;
  const [ranked] = useLoad(() => (ready ? rankedStock(job) : Promise.resolve(null)), [job.sections.measure?.revision, job.sections.choose?.revision]);
  const { data, change, save, trouble, sealed } = useSection(job, setJob, "stock", { from: "", item: null, od: "", wall: "", material: "", seam: "unknown" });
  // The ranking is for tube that goes over the damaged one; an inner sleeve and a patch are typed.
  const ranks = !["inner-sleeve", "patch"].includes(job.sections.choose?.data.method);
  const [other, setOther] = useState(data.from === "other");
  if (!ready) return html`<p class="note">Measure the tube and choose the method first.</p><a class="button main full" href=${`/job/${job.id}/method`}>Go to Method</a>`;
  if (!ranked.data) return html`<${Problem} trouble=${ranked.trouble} />`;
  const pick = (entry, from) => change({ from, item: entry.id ?? null, od: entry.od, wall: entry.wall, material: entry.material, seam: entry.seam,
    heat_number: entry.heat_number || "", certificate: entry.certificate || "", standing: entry.standing });
  const isPicked = (entry, from) => data.from === from && data.item === (entry.id ?? null) && data.od === entry.od && data.wall === entry.wall;
  const complete = data.od?.trim() && data.wall?.trim() && data.material;
  const card = (from) => (entry) => html`<${Candidate} key=${`${from}${entry.id ?? ""}${entry.od}${entry.wall}`} entry=${entry} picked=${isPicked(entry, from)} needs=${job.sections.choose.data.method === "larger-tube" ? "Needs, plus the opening" : "Needs"} onPick=${() => pick(entry, from)} />`;
  const { on_hand: rack, could_buy: buy, note, words } = ranked.data;
  return html`
    <h1>Sleeve stock</h1>
    <${Problem} trouble=${trouble} />
    ${!ranks && html`<p class="note">This method takes ${job.sections.choose.data.method === "patch" ? "a patch: give the diameter of the tube it is cut from" : "a tube that slides inside"}. Look through <a href="/rack">the rack</a> and type its size. The next place checks it.</p>`}
    ${ranks && html`${note && html`<p class="caution">${note}</p>`}
    <h2>On the rack</h2>
    ${rack.length ? rack.map(card("rack")) : html`<p>Nothing on the rack is near this size. <a href="/rack">Add tube to the rack</a>.</p>`}
    <h2>Could buy</h2>
    <p class="quiet">Usual sizes; what a supplier has varies.</p>
    ${buy.map(card("buy"))}`}
    <h2>Another size</h2>
    ${!other ? html`<button class="full" onClick=${() => { setOther(true); change({ from: "other", item: null, seam: "unknown" }); }}>Type a size</button>` : html`<div class="card">
      <${LengthField} id="sleeve-od" name="Sleeve outside diameter" role="diameter" value=${data.od} onChange=${(od) => change({ od, from: "other", item: null })} />
      <${LengthField} id="sleeve-wall" name="Sleeve wall" role="wall" value=${data.wall} onChange=${(wall) => change({ wall, from: "other", item: null })} />
      <${SelectField} id="sleeve-material" name="Sleeve material" value=${data.material} options=${words.materials} onChange=${(material) => change({ material, from: "other", item: null })} />
      <${Choices} name="sleeve-seam" legend="Weld seam inside the sleeve" value=${data.seam} options=${words.seams.map((s) => ({ key: s.key, name: s.text }))} onChange=${(seam) => change({ seam })} />
    </div>`}
    <${Defer} />
    <${Bar} missing=${complete ? `Chosen: ${data.od} × ${data.wall}` : "Still missing: a sleeve."}>
      <button class="main full" disabled=${!complete || sealed} onClick=${async () => (await save()) && next()}>${sealed ? "Sealed" : "Save, size the sleeve"}</button>
    <//>`;
}

function Candidate({ entry, picked, needs, onPick }) {
  return html`<section class=${`card ${picked ? "pick" : ""}`}>
    <div class="row spread"><h3>${entry.size}</h3><${Tag} word=${entry.standing} /></div>
    <p>${entry.material_name}${entry.heat_number ? `, heat ${entry.heat_number}` : ""}${entry.location ? `, ${entry.location}` : ""}</p>
    <p>${entry.why}</p>
    <dl class="numbers">
      <dt>Clearance, as drawn</dt><dd>${entry.clearance.nominal.text}</dd>
      <dt>Clearance, worst case</dt><dd>${entry.clearance.lowest.text} to ${entry.clearance.highest.text}</dd>
      ${entry.on_hand && html`<dt>On hand</dt><dd>${entry.on_hand.text}</dd>`}
      <dt>${needs}</dt><dd>${entry.needs.text}</dd>
    </dl>
    <details><summary>Every rule</summary>${entry.checks.map((c) => html`<${Check} key=${c.id} check=${c} />`)}</details>
    <button class=${`full ${picked ? "main" : ""}`} aria-pressed=${picked} onClick=${onPick}>${picked ? "✓ Chosen" : "Choose this"}</button>
  </section>`;
}
