// The rack: tube on hand, taking and returning, import and export.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { get, post, write } from "../api.js";
import { setWho, who } from "../kept.js";
import { LengthField } from "../lengthfield.js";
import { Bar, Choices, Problem, SelectField, TextField, useLoad, when } from "../parts.js";

const EMPTY = { od: "", wall: "", material: "", seam: "unknown", length: "", heat_number: "", certificate: "", location: "", note: "" };

export function Rack() {
  const [state, setState] = useLoad(() => Promise.all([get("/api/stock"), get("/api/choices")]), []);
  const [adding, setAdding] = useState(false);
  const [name, setName] = useState(who());
  const [trouble, setTrouble] = useState(null);
  const [says, setSays] = useState("");
  const reload = async () => setState(await Promise.all([get("/api/stock"), get("/api/choices")]));
  const bring = async (event) => {
    const [file] = event.target.files;
    event.target.value = "";
    if (!file) return;
    setSays("");
    try {
      const answer = await write("POST", `/api/stock/import?who=${encodeURIComponent(name.trim())}`, await file.text(), "text/csv");
      setTrouble(null);
      setSays(`${answer.imported} rows added.`);
      await reload();
    } catch (problem) {
      setTrouble(problem);
    }
  };
  const [stock, words] = state.data || [{ items: [] }, null];
  return html`<main class="page" id="content">
    <h1>Tube on the rack</h1>
    <${Problem} trouble=${state.trouble || trouble} />
    ${says && html`<p class="note" role="status">${says}</p>`}
    <${TextField} id="who" name="Your name" value=${name} onChange=${(text) => { setName(text); setWho(text); }} maxlength="80" />
    ${adding && words && html`<${Add} words=${words} name=${name} onDone=${async () => { setAdding(false); await reload(); }} onClose=${() => setAdding(false)} />`}
    ${state.data && !stock.items.length && !adding && html`<p>The rack is empty. Add a bar, or import a CSV file.</p>`}
    ${stock.items.map((item) => html`<${Item} key=${item.id} item=${item} words=${words} name=${name} onDone=${reload} />`)}
    <a class="button full" href="/cuts">Plan a cut list</a>
    <h2>CSV file</h2>
    <p class="quiet">Import adds every row of the file, or none: each bad row is named.</p>
    <div class="homebuttons">
      <a class="button" href="/api/stock.csv" download="stock.csv">Export as CSV</a>
      <label class="button" for="csv">Import a CSV file</label>
      <input class="hide" id="csv" type="file" accept=".csv,text/csv" disabled=${!name.trim()} onChange=${bring} />
    </div>
    <${Bar} missing=${name.trim() ? "" : "Still missing: your name."}><button class="main full" disabled=${!name.trim() || adding} onClick=${() => { setAdding(true); scrollTo(0, 0); }}>＋ Add tube to the rack</button><//>
  </main>`;
}

function Add({ words, name, onDone, onClose }) {
  const [data, setData] = useState(EMPTY);
  const [trouble, setTrouble] = useState(null);
  const set = (field) => (value) => setData((old) => ({ ...old, [field]: value }));
  const ready = data.od && data.wall && data.material && data.length;
  const add = async (event) => {
    event.preventDefault();
    const body = Object.fromEntries(Object.entries(data).filter(([, value]) => value !== ""));
    try {
      await post("/api/stock", { ...body, who: name.trim() });
      await onDone();
    } catch (problem) {
      setTrouble(problem);
    }
  };
  return html`<form class="card pick" onSubmit=${add}>
    <h2>Add tube</h2>
    <${Problem} trouble=${trouble} />
    <${LengthField} id="od" name="Outside diameter" role="diameter" value=${data.od} onChange=${set("od")} />
    <${LengthField} id="wall" name="Wall" role="wall" value=${data.wall} onChange=${set("wall")} />
    <${LengthField} id="length" name="Length on hand" value=${data.length} onChange=${set("length")} />
    <${SelectField} id="material" name="Material" value=${data.material} options=${words.materials} onChange=${set("material")} />
    <${Choices} name="seam" legend="Weld seam inside" value=${data.seam} options=${words.seams.map((s) => ({ key: s.key, name: s.text }))} onChange=${set("seam")} />
    <${TextField} id="heat" name="Heat number" value=${data.heat_number} onChange=${set("heat_number")} maxlength="80" />
    <${TextField} id="certificate" name="Certificate" value=${data.certificate} onChange=${set("certificate")} maxlength="80" />
    <${TextField} id="location" name="Where it lies" value=${data.location} onChange=${set("location")} maxlength="80" />
    <div class="row"><button class="main" disabled=${!ready}>Add it</button><button type="button" onClick=${onClose}>Not now</button></div>
  </form>`;
}

function Item({ item, words, name, onDone }) {
  const [mode, setMode] = useState("");
  const [length, setLength] = useState("");
  const [reason, setReason] = useState("");
  const [trouble, setTrouble] = useState(null);
  const [moves, setMoves] = useState(null);
  const steel = words?.materials.find((m) => m.key === item.material)?.name || item.material;
  const move = async (event) => {
    event.preventDefault();
    try {
      await post(`/api/stock/${item.id}/${mode}`, { length, reason: reason.trim(), who: name.trim() });
      setMode("");
      setLength("");
      setReason("");
      setTrouble(null);
      await onDone();
    } catch (problem) {
      setTrouble(problem);
    }
  };
  const history = async (event) => {
    if (event.target.open) setMoves((await get(`/api/stock/${item.id}/moves`).catch(() => ({ moves: [] }))).moves);
  };
  return html`<section class="card">
    <div class="row spread"><h2 class="small">${item.od.typed} × ${item.wall.typed}</h2><b>${item.on_hand.text}</b></div>
    <p>${steel}${item.heat_number && `, heat ${item.heat_number}`}${item.certificate && `, ${item.certificate}`}${item.location && `, ${item.location}`}</p>
    ${item.note && html`<p class="quiet">${item.note}</p>`}
    <${Problem} trouble=${trouble} />
    ${mode ? html`<form onSubmit=${move}>
      <${LengthField} id=${`move${item.id}`} name=${mode === "take" ? "Length to take" : "Length to put back"} value=${length} onChange=${setLength} />
      <${TextField} id=${`why${item.id}`} name="What for" value=${reason} onChange=${setReason} maxlength="200" />
      <div class="row"><button class="main" disabled=${!length || reason.trim().length < 1 || !name.trim()}>${mode === "take" ? "Take it" : "Put it back"}</button><button type="button" onClick=${() => setMode("")}>Not now</button></div>
    </form>` : typeof item.id === "string" ? html`<p class="quiet">Not sent yet: the laptop gives it a number, then it can be taken from.</p>`
      : html`<div class="row"><button onClick=${() => setMode("take")}>Take</button><button onClick=${() => setMode("return")}>Put back</button></div>`}
    ${item.unsent && html`<p class="is-ask"><b>Not sent yet.</b></p>`}
    <details onToggle=${history}><summary>Ledger</summary>${moves && html`<ul>${moves.map((m) => html`<li key=${m.id}>${m.kind} ${m.typed} · ${m.reason} · ${m.who}, ${when(m.at)}</li>`)}</ul>`}</details>
  </section>`;
}
