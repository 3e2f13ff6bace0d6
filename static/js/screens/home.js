// The start: begin a repair, find a tag, go on with an open job.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { get, post } from "../api.js";
import { restoreRead, setRestoreRead, setWho, who } from "../kept.js";
import { Defer, Problem, TextField, useLoad, when } from "../parts.js";
import { go } from "../router.js";

export function Home() {
  const [jobs] = useLoad(() => get("/api/jobs"), []);
  const [health] = useLoad(() => get("/api/health"), []);
  const [starting, setStarting] = useState(false);
  const list = jobs.data?.jobs || [];
  return html`<main class="page" id="content">
    <h1>Splice a damaged tube</h1>
    <${Restored} restored=${health.data?.restored} />
    ${health.data?.backup_trouble && html`<p class="note" role="status"><b>No backup is being made.</b> ${health.data.backup_trouble}</p>`}
    <div class="homebuttons">
      <button class="button main" onClick=${() => setStarting(true)}>＋ Start a repair</button>
      <a class="button" href="/find">⌕ Find a tag</a>
      <a class="button" href="/rack">☰ Tube on the rack</a>
      ${health.data?.role === "plan" && html`<a class="button" href="/devices">▯ Devices</a>`}
    </div>
    ${starting && html`<${Start} onClose=${() => setStarting(false)} />`}
    <${Problem} trouble=${jobs.trouble} />
    ${health.data && !health.data.role && html`<a class="button main full" href="/pair">Pair this phone</a>`}
    <h2>Jobs on this laptop</h2>
    ${jobs.data && !list.length && html`<p>None yet.</p>`}
    <ul class="plain">${list.map((job) => html`<li key=${job.id}>
      <a class="button full joblink" href=${job.state === "sealed" ? `/tag/${job.id}` : `/job/${job.id}/measure`}>
        <span>${job.title}</span><span class="mono">${job.id_text}</span>
      </a>
      <p class="quiet">${job.state === "sealed" ? "Sealed" : "Open"}, started ${when(job.created_at)} by ${job.created_by}</p>
    </li>`)}</ul>
    ${!isSecureContext && html`<div class="note"><p class="quiet">This is the plain page: no offline use, no live camera, and others on the Wi-Fi can read along.</p><a class="button full" href="/trust" target="_self">Use the secure page</a></div>`}
    <${Defer} />
  </main>`;
}

/** After a restore people must look: what was written last may be missing. Gone once someone has read it. */
function Restored({ restored }) {
  const [read, setRead] = useState(restoreRead);
  if (!restored || read === restored.at) return null;
  const dismiss = () => {
    setRestoreRead(restored.at);
    setRead(restored.at);
  };
  return html`<section class="card pick" aria-labelledby="restored">
    <h2 id="restored">The laptop went back to a backup</h2>
    <p>${when(restored.at)}: ${restored.why}</p>
    <p>Look at what was written last. Phones send again what they still have.</p>
    <p><button class="full" onClick=${dismiss}>I have looked</button></p>
  </section>`;
}

function Start({ onClose }) {
  const [title, setTitle] = useState("");
  const [name, setName] = useState(who());
  const [trouble, setTrouble] = useState(null);
  const ready = title.trim() && name.trim();
  const start = async (event) => {
    event.preventDefault();
    if (!ready) return;
    setWho(name);
    try {
      const job = await post("/api/jobs", { title: title.trim(), who: name.trim() });
      go(`/job/${job.id}/measure`);
    } catch (problem) {
      setTrouble(problem);
    }
  };
  return html`<form class="card pick" onSubmit=${start}>
    <h2>New repair</h2>
    <${Problem} trouble=${trouble} />
    <${TextField} id="title" name="Car and member" help="For example: truck 12, left door bar" value=${title} onChange=${setTitle} maxlength="80" />
    <${TextField} id="who" name="Your name" value=${name} onChange=${setName} maxlength="80" />
    <div class="row"><button class="main" type="submit" disabled=${!ready}>Start</button><button type="button" onClick=${onClose}>Not now</button></div>
  </form>`;
}
