// Method: what the circular leaves open here, why not the others, and the reason for the choice.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ask, get } from "../api.js";
import { Bar, Check, Choices, Defer, Problem, Sources, Tag, TextField, useLoad } from "../parts.js";
import { useSection } from "./job.js";

const SIZED = ["outer-sleeve", "inner-sleeve", "larger-tube", "split-sleeve", "patch"];
const WITH_ENDS = ["outer-sleeve", "larger-tube", "split-sleeve"];

export function Method({ job, setJob, next }) {
  const measured = job.sections.measure?.data;
  const [choices] = useLoad(() => get("/api/choices"), []);
  const [assessed] = useLoad(() => (measured ? ask("/api/assess", measured) : Promise.resolve(null)), [job.sections.measure?.revision]);
  const section = useSection(job, setJob, "choose", { method: "", end: "fishmouth", mitre_deg: 60, sleeves: 2, reason: "" });
  const { data, change, save, trouble, sealed } = section;
  const [mitre, setMitre] = useState(String(data.mitre_deg || 60));
  if (!measured) return html`<p class="note">Measure the tube first.</p><a class="button main full" href=${`/job/${job.id}/measure`}>Go to Measure</a>`;
  if (!assessed.data || !choices.data) return html`<${Problem} trouble=${assessed.trouble || choices.trouble} />`;
  const { methods, stops, measure_next: questions, look, notes, shop_rules: shop } = assessed.data;
  const picked = methods.find((m) => m.key === data.method);
  const angle = Number(mitre);
  const shaped = WITH_ENDS.includes(data.method);
  const angleGood = data.method === "patch" || (shaped && data.end === "square") || (angle > 0 && angle <= choices.data.steepest_mitre);
  const needsReason = picked && (picked.key === "outer-sleeve" || picked.standing !== "open");
  const missing = [!picked && "a method", needsReason && data.reason.trim().length < 3 && "the reason", !angleGood && `a mitre angle up to ${choices.data.steepest_mitre}`].filter(Boolean);
  const finish = async () => {
    if (await save({ ...data, mitre_deg: shaped && data.end === "square" ? 0 : angle, sleeves: { "outer-sleeve": data.sleeves, "inner-sleeve": 2 }[data.method] ?? 1, reason: data.reason.trim() })) next();
  };
  return html`
    <h1>Method</h1>
    <${Problem} trouble=${trouble} />
    ${stops.filter((c) => c.verdict === "not met").map((c) => html`<div class="problem" role="alert"><h2>Stop: ${c.text}</h2><p class="quiet">${c.clause}</p></div>`)}
    ${questions.length > 0 && html`<details><summary>Measure or look next (${questions.length})</summary>
      <ol>${questions.map((q) => html`<li>${q.question} <span class="quiet">For: ${q.for.join(", ")}</span></li>`)}</ol>
      <a class="button full" href=${`/job/${job.id}/measure`}>Back to Measure</a></details>`}
    ${assessed.data.not_checked?.map((text) => html`<p class="caution" key=${text}>${text}</p>`)}
    ${shop && html`<section class="card"><h2>Your rule sheet</h2><p class="quiet">${measured.member}</p>${shop.map((c) => html`<${Check} key=${c.id} check=${c} />`)}</section>`}
    ${methods.map((m) => html`<section class=${`card ${m.key === data.method ? "pick" : ""}`} key=${m.key}>
      <div class="row spread"><h2>${m.name}</h2><${Tag} word=${m.standing} /></div>
      <p>${m.about}</p>
      <${Reasons} method=${m} />
      <details><summary>Every rule, ${m.clause}</summary>${m.checks.map((c) => html`<${Check} key=${c.id} check=${c} />`)}</details>
      ${m.standing !== "closed" && (SIZED.includes(m.key)
        ? html`<button class=${`full ${m.key === data.method ? "main" : ""}`} aria-pressed=${m.key === data.method} onClick=${() => change({ method: m.key })}>
            ${m.key === data.method ? "✓ Chosen" : `Choose ${m.name.toLowerCase()}`}</button>`
        : html`<p class="quiet">${m.key === "replace" ? "No sleeve to size here: build the new member." : "This version does not size it. Work it out from the circular."}</p>`)}
    </section>`)}
    ${picked && html`<section>
      <h2>How it is cut</h2>
      ${data.method === "outer-sleeve" && html`<${Choices} name="sleeves" legend="How many sleeves?" value=${String(data.sleeves)} onChange=${(n) => change({ sleeves: Number(n) })}
        options=${[{ key: "1", name: "One", text: "one clean cut" }, { key: "2", name: "Two", text: "a replaced section" }]} />`}
      ${shaped && html`<${Choices} name="end" legend="End shape" wide value=${data.end} onChange=${(end) => change({ end })} options=${choices.data.ends.map((e) => ({ key: e.key, name: e.key, text: e.text }))} />`}
      ${data.method !== "patch" && (data.end !== "square" || !shaped) && html`<${TextField} id="mitre" name="Saw angle from a square cut, degrees" help="60 gives the circular's 30 degrees to the tube." inputmode="decimal" value=${mitre}
        onChange=${(text) => { setMitre(text); if (Number(text) > 0) change({ mitre_deg: Number(text) }); }} />`}
      <${TextField} id="reason" area name="Why this method?" help="The circular uses an outer sleeve only where other methods do not suit. The inspector reads this." value=${data.reason} onChange=${(reason) => change({ reason })} maxlength="500" />
    </section>`}
    <details><summary>Look for damage elsewhere</summary><ul>${look.map((text) => html`<li>${text}</li>`)}</ul></details>
    <details><summary>Notes</summary><ul>${notes.map((text) => html`<li>${text}</li>`)}</ul></details>
    <${Sources} sources=${assessed.data.sources} />
    <${Defer} />
    <${Bar} missing=${missing.length ? `Still missing: ${missing.join(", ")}.` : ""}>
      <button class="main full" disabled=${missing.length > 0 || sealed} onClick=${finish}>${sealed ? "Sealed" : "Save, find a sleeve"}</button>
    <//>`;
}

function Reasons({ method }) {
  const not = method.checks.filter((c) => c.verdict === "not met");
  const open = method.checks.filter((c) => c.verdict === "unknown");
  if (not.length) return html`<ul>${not.map((c) => html`<li><b>${c.text}</b> ${c.given}; limit ${c.limit}.</li>`)}</ul>`;
  if (open.length) return html`<p class="is-ask"><b>${open.length} to measure or look at first.</b></p>`;
  return null;
}
