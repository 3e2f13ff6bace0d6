// Tag: what is missing before the record can be sealed, then the tag itself.
import { html, useEffect, useState } from "../../vendor/preact-htm/standalone.module.js";
import { get, post } from "../api.js";
import { who } from "../kept.js";
import { Bar, Defer, Problem, useLoad } from "../parts.js";

const NAMES = { measure: "Measure", choose: "Method", stock: "Sleeve", size: "Size" };

export function TagPlace({ job, reload }) {
  const [loaded] = useLoad(() => get(`/api/jobs/${job.id}/checklist`), [job.id]);
  const [trouble, setTrouble] = useState(null);
  const [sure, setSure] = useState(false);
  if (job.record) return html`<h1>The tag</h1><${TagView} id=${job.record.id} text=${job.id_text} /><${Defer} />
    <${Bar}><a class="button main full" href=${`/tag/${job.record.id}`}>Open the record</a><//>`;
  const sections = Object.keys(NAMES).filter((name) => !job.sections[name]);
  const state = loaded.data?.state;
  const steps = state ? state.missing.length : null;
  const again = state ? state.look_again.length : 0;
  const ready = !sections.length && steps === 0 && again === 0;
  const seal = async () => {
    try {
      await post(`/api/jobs/${job.id}/seal`, { who: who() });
      await reload();
    } catch (problem) {
      setTrouble(problem);
      setSure(false);
    }
  };
  return html`
    <h1>Seal and tag</h1>
    <${Problem} trouble=${trouble} />
    <p>Sealing keeps the whole job as it stands. After that only corrections can be added beside it.</p>
    ${ready ? html`<p class="check is-met"><b>Everything is here.</b></p>` : html`<h2>Still missing</h2><ul class="plain">
      ${sections.map((name) => html`<li key=${name}><a class="button full" href=${`/job/${job.id}/${name === "choose" ? "method" : name === "stock" ? "sleeve" : name}`}>${NAMES[name]} is not saved</a></li>`)}
      ${steps > 0 && html`<li><a class="button full" href=${`/job/${job.id}/weld`}>${steps} step${steps > 1 ? "s" : ""} of the checklist</a></li>`}
      ${again > 0 && html`<li><a class="button full" href=${`/job/${job.id}/weld`}>${again} step${again > 1 ? "s" : ""} to look at again</a></li>`}
    </ul>`}
    <${Defer} />
    <${Bar} missing=${ready ? "" : "Not ready to seal."}>
      ${sure ? html`<div class="row"><button onClick=${() => setSure(false)}>Not yet</button><button class="main wide" onClick=${seal}>Yes, seal as ${who()}</button></div>`
        : html`<button class="main full" disabled=${!ready} onClick=${() => setSure(true)}>Seal the record</button>`}
    <//>`;
}

/** The code comes as text and is kept, so that it shows with the laptop gone. */
function Code({ id, text }) {
  const [source, setSource] = useState("");
  useEffect(() => {
    let url = "";
    get(`/api/records/${id}/tag.svg`).then((svg) => {
      url = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
      setSource(url);
    }, () => setSource(null));
    return () => URL.revokeObjectURL(url);
  }, [id]);
  if (source === null) return html`<p class="note">The code needs the laptop once. The id below is enough to find the record.</p>`;
  return html`<img class="qr" src=${source || undefined} alt=${`QR code of tag ${text}`} width="260" height="260" />`;
}

export function TagView({ id, text }) {
  return html`
    <${Code} id=${id} text=${text} />
    <p class="id mono" data-testid="tag-id">${text}</p>
    <p class="center">The code can be read with no laptop near. The id finds the full record.</p>
    <div class="homebuttons">
      <a class="button" href=${`/api/records/${id}/tag.pdf`} target="_blank" rel="noopener">Print one tag</a>
      <a class="button" href=${`/api/records/${id}/tag.pdf?sheet=a4`} target="_blank" rel="noopener">A4 sheet</a>
      <a class="button" href=${`/api/records/${id}/tag.pdf?sheet=letter`} target="_blank" rel="noopener">Letter sheet</a>
    </div>`;
}
