// The sealed record, for the inspector or the next owner.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ask, get, post } from "../api.js";
import { setWho, who } from "../kept.js";
import { Bar, Check, Defer, Drawing, Problem, Sources, TextField, useLoad, when } from "../parts.js";
import { TagView } from "./tag.js";

async function load(id) {
  const record = await get(`/api/records/${id}`);
  const size = record.body.sections.size?.data;
  const drawing = size ? (await ask("/api/size?drawing=1", size).catch(() => ({}))).drawing : "";
  return { record, drawing };
}

export function Record({ parts }) {
  const [, id] = parts;
  const [state, setState] = useLoad(() => load(id), [id]);
  if (state.trouble) return html`<main class="page" id="content"><h1>Record</h1><${Problem} trouble=${state.trouble} /><a class="button main full" href="/find">Find another tag</a></main>`;
  if (!state.data) return html`<main class="page" id="content"><p>Loading the record.</p></main>`;
  const { record, drawing } = state.data;
  const { body } = record;
  const { result, checklist, sections } = body;
  const cut = result.length?.given || result.length?.blank;
  return html`<main class="page" id="content">
    <h1>${body.title}</h1>
    <p class="id mono">${record.id_text}</p>
    <div class=${`check ${record.intact ? "is-met" : "is-missed"}`}>
      <h2 class="small">${record.intact ? "✓ Unchanged since it was sealed" : "✗ Does not match its seal"}</h2>
      ${record.findings.map((f) => html`<p>${f}</p>`)}
      <p>Sealed ${when(record.sealed_at)} by ${record.sealed_by}</p>
    </div>
    ${record.amendments.length > 0 && html`<h2>Corrections</h2>${record.amendments.map((a) => html`<div class="card" key=${a.number}><p><b>${a.number}.</b> ${a.text}</p><p class="quiet">${a.who}, ${when(a.at)}</p></div>`)}`}
    <h2>What was done</h2>
    <dl class="numbers">
      <dt>Tube</dt><dd>${result.input?.tube.od}<br />wall ${result.input?.tube.wall}<br />${result.input?.tube.material_name}</dd>
      <dt>Sleeve</dt><dd>${result.input?.sleeve.od}<br />wall ${result.input?.sleeve.wall}<br />${result.input?.sleeve.material_name}</dd>
      ${sections.stock?.data.heat_number && html`<dt>Heat number</dt><dd>${sections.stock.data.heat_number}</dd>`}
      <dt>Ends</dt><dd>${result.input?.end}${result.input?.end === "square" ? "" : `, saw ${result.input?.mitre_deg}°`}</dd>
      <dt>Sleeve length</dt><dd>${cut?.text}</dd>
      <dt>Rule length</dt><dd>${result.length?.rule.text}</dd>
      <dt>Method</dt><dd>${sections.choose?.data.method.replaceAll("-", " ")}</dd>
    </dl>
    ${sections.choose?.data.reason && html`<p class="note">Why: ${sections.choose.data.reason}</p>`}
    <${Drawing} svg=${drawing} />
    <details><summary>Every rule</summary>${(result.checks || []).map((c) => html`<${Check} key=${c.id} check=${c} />`)}</details>
    <${Measured} checklist=${checklist} />
    <details><summary>Checklist, ${checklist.version}</summary>
      ${checklist.wording.groups.map((g) => html`<h3>${g.title}</h3><ol class="steps">${g.steps.map((s) => {
        const at = checklist.state.steps[s.key];
        return html`<li key=${s.key}><span class="mark" aria-hidden="true">${at.state === "done" ? "✓" : "–"}</span><div><p>${s.text}</p>
          <p class="quiet">${at.state === "skipped" ? "Skipped" : "Done"} by ${at.by}, ${when(at.when)}${at.value ? `: ${at.value}` : ""}${at.reason ? `. ${at.reason}` : ""}</p></div></li>`;
      })}</ol>`)}
    </details>
    <${Photos} photos=${body.photos} />
    <${Sources} assumptions=${result.assumptions} sources=${result.sources} />
    <details><summary>Tag and seal</summary><${TagView} id=${record.id} text=${record.id_text} /><p class="quiet seal">SHA-256 ${record.sha256}</p></details>
    <${Amend} id=${record.id} onDone=${async () => setState(await load(id))} />
    <${Defer} />
    <${Bar}><a class="button main full" href="/find">Find another tag</a><//>
  </main>`;
}

/** The numbers read at holds and the steps left out: what an inspector asks for first. */
function Measured({ checklist }) {
  const steps = checklist.wording.groups.flatMap((g) => g.steps).map((step) => ({ step, at: checklist.state.steps[step.key] }));
  const held = steps.filter(({ step, at }) => step.hold && at.value);
  const skipped = steps.filter(({ at }) => at.state === "skipped");
  return html`<h2>Measured at the holds</h2>
    <dl class="numbers">${held.map(({ step, at }) => html`<dt key=${step.key}>${step.hold.ask} <span class="quiet">${step.hold.limit_text}</span></dt><dd>${at.value}<br /><span class="quiet">${at.by}</span></dd>`)}</dl>
    <h2>Skipped steps</h2>
    ${skipped.length ? html`<ul>${skipped.map(({ step, at }) => html`<li key=${step.key}>${step.text} <b>${at.reason}</b> (${at.by})</li>`)}</ul>` : html`<p>None.</p>`}`;
}

function Photos({ photos = [] }) {
  if (!photos.length) return null;
  return html`<h2>Photos</h2>${photos.map((p) => html`<figure class="photo" key=${p.id}>
    <a href=${`/api/photos/${p.id}`} target="_blank"><img src=${`/api/photos/${p.id}`} width=${p.width} height=${p.height} loading="lazy" alt=${p.note || `Photo by ${p.who}`} /></a>
    <figcaption class="quiet">${p.note && html`${p.note}. `}${p.who}, ${when(p.when)}</figcaption>
  </figure>`)}`;
}

function Amend({ id, onDone }) {
  const [text, setText] = useState("");
  const [name, setName] = useState(who());
  const [trouble, setTrouble] = useState(null);
  const add = async (event) => {
    event.preventDefault();
    setWho(name);
    try {
      await post(`/api/records/${id}/amendments`, { who: name.trim(), text: text.trim() });
      setText("");
      await onDone();
    } catch (problem) {
      setTrouble(problem);
    }
  };
  return html`<details><summary>Add a correction</summary><form onSubmit=${add}>
    <${Problem} trouble=${trouble} />
    <${TextField} id="amend" area name="Correction" help="The sealed record stays; this is kept beside it." value=${text} onChange=${setText} maxlength="2000" />
    <${TextField} id="amend-who" name="Your name" value=${name} onChange=${setName} maxlength="80" />
    <p><button class="full" disabled=${text.trim().length < 3 || !name.trim()}>Add the correction</button></p>
  </form></details>`;
}
