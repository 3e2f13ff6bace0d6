// The parts that screens are made of.
import { html, useEffect, useRef, useState } from "../vendor/preact-htm/standalone.module.js";

export const DEFER = "Not a verdict on the car. The rule book, local codes, the inspector and a qualified welder decide.";

const VERDICT_CLASS = { met: "is-met", "not met": "is-missed", unknown: "is-ask", open: "is-met", closed: "is-missed", "measure first": "is-ask",
  fits: "is-met", "does not fit": "is-missed", "ask the inspector": "is-ask" };
const VERDICT_MARK = { "is-met": "✓", "is-missed": "✗", "is-ask": "?" };

export function Tag({ word }) {
  const kind = VERDICT_CLASS[word] || "is-ask";
  return html`<span class=${`tag ${kind}`}>${VERDICT_MARK[kind]} ${word}</span>`;
}

export const verdictClass = (word) => VERDICT_CLASS[word] || "is-ask";

export function Check({ check, name }) {
  return html`<div class=${`check ${verdictClass(check.verdict)}`}>
    <div class="row spread"><h3>${name || label(check.id)}</h3><${Tag} word=${check.verdict} /></div>
    <p>${check.given} <span class="quiet">— limit: ${check.limit}</span></p>
    <p>${check.text}</p>
    <p class="quiet">${check.clause}</p>
  </div>`;
}

const LABELS = {
  overlap: "Overlap past the stub end", clearance: "Clearance, as drawn", clearance_worst: "Clearance, worst case", clearance_measured: "Clearance, measured", rosettes: "Rosettes", wall: "Wall", material: "Material",
  seam: "Weld seam", gap: "Butt gap", end: "End shape", end_angle: "End angle", damage: "Kind of damage", old_weld: "Old weld", room_left: "Room on the left",
  room_right: "Room on the right", inside_bead: "Inside bead", near_cluster: "Cluster of joints", needs_same_od: "Brackets", short_stub: "Short stub",
  long_stub: "Long stub", damage_length: "Length of the damage", around: "Around the tube", middle_third: "Middle third", depth: "Depth",
  sharp_corners: "Sharp corners", can_reform: "Re-forming", heat_treated: "Heat treatment", brazed: "Brazing", crack_into_joint: "Crack into a joint", always: "Replacement",
  sheet_od: "Outside diameter", sheet_wall: "Wall", sheet_material: "Material", sheet_sleeve_wall: "Sleeve wall", sheet_sleeve_material: "Sleeve material",
};
export const label = (id) => LABELS[id] || (id.charAt(0).toUpperCase() + id.slice(1)).replaceAll("_", " ");

export function Problem({ trouble }) {
  const box = useRef(null);
  // A person who is typing keeps the field; the alert is read out all the same.
  useEffect(() => { if (!document.activeElement?.matches("input, textarea, select")) box.current?.focus(); }, [trouble]);
  if (!trouble) return null;
  const body = trouble.body || { title: trouble.message };
  const rows = [body, ...(body.others || [])];
  return html`<div class="problem" role="alert" tabindex="-1" ref=${box}>
    ${rows.map((one, i) => html`<div key=${i}>
      <h2>${one.title}</h2>
      ${one.field && html`<p class="quiet">At: ${one.field}</p>`}
      ${one.given && html`<p>Given: ${one.given}</p>`}
      ${one.allowed && html`<p>Allowed: ${one.allowed}</p>`}
      ${one.next && html`<p><b>${one.next}</b></p>`}
    </div>`)}
    ${trouble.operation && html`<p>It is kept on this phone.</p><a class="button" href="/unsent">Compare and decide</a>`}
    ${body.missing && html`<ul>${body.missing.slice(0, 12).map((m) => html`<li>${m.what}</li>`)}</ul>`}
    ${body.rows && html`<ul>${body.rows.map((r) => html`<li>Row ${r.row}, ${r.field}: given ${r.given}; allowed ${r.allowed} ${r.next}</li>`)}</ul>`}
  </div>`;
}

export function Field({ id, name, help, children, says, bad }) {
  return html`<div class=${`field ${bad ? "wrong" : ""}`}>
    <label for=${id}>${name}</label>
    ${help && html`<p class="help quiet" id=${`${id}-help`}>${help}</p>`}
    ${children}
    ${says !== undefined && html`<p class=${`says ${bad ? "bad" : "ok"}`} id=${`${id}-says`}>${says}</p>`}
  </div>`;
}

export function TextField({ id, name, help, value, onChange, area, ...rest }) {
  const input = { id, value: value || "", onInput: (e) => onChange(e.target.value), "aria-describedby": help ? `${id}-help` : undefined, ...rest };
  return html`<${Field} id=${id} name=${name} help=${help}>
    ${area ? html`<textarea ...${input}></textarea>` : html`<input type="text" autocomplete="off" ...${input} />`}
  <//>`;
}

export function SelectField({ id, name, help, value, options, onChange }) {
  return html`<${Field} id=${id} name=${name} help=${help}>
    <select id=${id} value=${value || ""} onChange=${(e) => onChange(e.target.value)}>
      <option value="">Choose</option>
      ${options.map((o) => html`<option key=${o.key} value=${o.key}>${o.name}</option>`)}
    </select>
  <//>`;
}

export function Choices({ name, legend, help, value, options, onChange, wide, quietLegend }) {
  return html`<fieldset>
    <legend class=${quietLegend ? "hide" : "legend"}>${legend}</legend>
    ${help && html`<p class="quiet">${help}</p>`}
    <div class=${`choices ${wide ? "wide" : options.length === 4 ? "four" : ""}`}>
      ${options.map((o) => html`<label class="choice" key=${o.key}>
        <input type="radio" name=${name} value=${o.key} checked=${value === o.key} disabled=${o.disabled} onChange=${() => onChange(o.key)} />
        <span><b>${o.name || o.key}</b>${o.text && html`<small>${o.text}</small>`}</span>
      </label>`)}
    </div>
  </fieldset>`;
}

export function Bar({ missing, children }) {
  return html`<div class="bar"><div class="bar-in">
    ${missing && html`<p class="missing" role="status">${missing}</p>`}
    ${children}
  </div></div>`;
}

export function Defer() {
  return html`<p class="defer">${DEFER}</p>`;
}

export function Drawing({ svg }) {
  const box = useRef(null);
  useEffect(() => {
    // The picture comes from our own laptop as SVG text; parsed as XML, scripts never run.
    const parsed = new DOMParser().parseFromString(svg || "", "image/svg+xml").documentElement;
    box.current.replaceChildren(...(svg && parsed.nodeName === "svg" ? [document.importNode(parsed, true)] : []));
  }, [svg]);
  return html`<div class="drawing" ref=${box}></div>`;
}

export function Sources({ assumptions = [], sources = [] }) {
  return html`<details><summary>Assumptions and sources</summary>
    <ul>${assumptions.map((a) => html`<li>${a}</li>`)}</ul>
    <ul>${sources.map((s) => html`<li><b>${s.document || "Shop practice"}${s.edition && `, ${s.edition}`}${s.clause && `, ${s.clause}`}</b>: ${s.says} <i>(${s.basis})</i></li>`)}</ul>
  </details>`;
}

export function useLoad(load, deps) {
  const [state, setState] = useState({ loading: true });
  useEffect(() => {
    let current = true;
    setState({ loading: true });
    load().then((data) => current && setState({ data }), (trouble) => current && setState({ trouble }));
    return () => { current = false; };
  }, deps);
  return [state, (data) => setState({ data })];
}

/** A screen that is loaded when it is first opened, so that the start does not wait for all of them. */
export function lazy(load, name) {
  let Screen = null;
  return function Lazy(props) {
    const [trouble, setTrouble] = useState(null);
    const [, draw] = useState(0);
    useEffect(() => {
      if (!Screen) load().then((module) => { Screen = module[name]; draw(1); }, () => setTrouble({ body: { title: "This part of the page did not load.", next: "Come back into the laptop's Wi-Fi and load the page again." } }));
    }, []);
    if (Screen) return html`<${Screen} ...${props} />`;
    return html`<${Problem} trouble=${trouble} />${!trouble && html`<p class="page">Loading.</p>`}`;
  };
}

export const when = (iso) => (iso ? iso.replace("T", " ").replace(/(:\d\d)(\.\d+)?Z$/, "$1 UTC").replace(/:\d\d UTC$/, " UTC") : "");
