// Fit: drawn, worst and measured side by side, what to do, and the readings it is worked out from.
import { html } from "../../vendor/preact-htm/standalone.module.js";
import { LengthField } from "../lengthfield.js";
import { Choices, verdictClass } from "../parts.js";

const MARKS = { met: "✓ met", "not met": "✗ not met", unknown: "? unknown" };
const UNIT = / (in|mm)$/;
const FEWEST = 2;
const MOST = 12;
// Which readings a method takes: the part inside, and the bore it goes into.
const OVER = { inside: "tube_od", bore: "sleeve_bore", outside: "sleeve_od", wall: "sleeve_wall", insideName: "Tube outside", outer: "Sleeve" };
const PLACES = {
  "outer-sleeve": OVER,
  "split-sleeve": { ...OVER, outer: "Sleeve, before slitting:" },
  "larger-tube": { ...OVER, outer: "New tube" },
  "inner-sleeve": { inside: "sleeve_od", bore: "tube_bore", outside: "tube_od", wall: "tube_wall", insideName: "Sleeve outside", outer: "Tube" },
};

const typed = (list) => (list || []).map((text) => text.trim()).filter(Boolean);

/** The readings as typed, or what Measure already has. */
export function readings(method, data, measured) {
  const place = PLACES[method];
  if (!place) return null;
  if (data.measured) return data.measured;
  const ods = measured.od_readings || [measured.tube.od];
  return method === "inner-sleeve" ? { tube_od: ods, tube_wall: measured.tube.wall } : { tube_od: ods };
}

/** Whether the bore was measured itself or comes from outside and wall. */
export const boreBy = (method, data) => data.bore_by || (data.measured?.[PLACES[method].wall] && !typed(data.measured[PLACES[method].bore]).length ? "wall" : "bore");

/** What is sent: null while either part has fewer than two readings. */
export function measuredInput(method, values, by) {
  const place = PLACES[method];
  if (!place || !values) return null;
  const name = by === "wall" ? place.outside : place.bore;
  const [inside, outer, wall] = [typed(values[place.inside]), typed(values[name]), (values[place.wall] || "").trim()];
  if (inside.length < FEWEST || outer.length < FEWEST || (by === "wall" && !wall)) return null;
  return { [place.inside]: inside, [name]: outer, ...(by === "wall" && { [place.wall]: wall }), ...(values.bead?.trim() && { bead: values.bead.trim() }) };
}

/** What keeps typed readings from being used, "" where nothing does: they are not to be lost by a save. */
export function unfinished(method, data, measured, by, bad) {
  if (!PLACES[method]) return "";
  if (Object.values(bad).some(Boolean)) return "Fit: one reading cannot be read.";
  if (!data.measured || measuredInput(method, data.measured, by)) return "";
  const place = PLACES[method];
  const known = readings(method, {}, measured);
  const fresh = [place.inside, place.bore, place.outside].some((name) => typed(data.measured[name]).join() !== typed(known[name]).join());
  return fresh ? "Fit: type two readings of each part, or empty them." : "";
}

export function Fit({ fit }) {
  if (!fit) return null;
  // The unit stands once, in the corner: three numbers with units do not fit a narrow phone.
  const unit = fit.rows[0].drawn.text.match(UNIT)[1];
  const cell = (row, column) => (row[column] ? row[column].text.replace(UNIT, "") : "–");
  const columns = ["drawn", "worst", "measured"];
  return html`<h2>Fit: drawn, worst, measured</h2>
    <p class="quiet">${fit.between}. Limit ${fit.limit}.</p>
    <table class="three">
      <thead><tr><th scope="col">${unit}</th>${columns.map((name) => html`<th scope="col" key=${name}>${name}</th>`)}</tr></thead>
      <tbody>
        ${fit.rows.map((row) => html`<tr key=${row.label}><th scope="row">${row.label}</th>${columns.map((name) => html`<td key=${name}>${cell(row, name)}</td>`)}</tr>`)}
        <tr class="rule"><th scope="row">Rule</th>${columns.map((name) => html`<td key=${name} class=${fit.verdicts[name] ? verdictClass(fit.verdicts[name]) : ""}>${MARKS[fit.verdicts[name]] || "–"}</td>`)}</tr>
      </tbody>
    </table>
    <ul class="todo">${fit.what_to_do.map((line) => html`<li key=${line}>${line}</li>`)}</ul>
    ${fit.measured && html`<details><summary>Ovality and assumptions</summary>
      <dl class="numbers">${fit.measured.numbers.map((n) => html`<dt key=${n.label}>${n.label} <span class="quiet">${n.note}</span></dt><dd>${n.value.text}</dd>`)}</dl>
      <ul>${fit.measured.assumptions.map((line) => html`<li key=${line}>${line}</li>`)}</ul></details>`}`;
}

/** Several readings of one diameter, a field each, and a button for one more. */
function Readings({ id, name, list, onChange, onBad }) {
  const shown = [...list, ...Array(Math.max(0, FEWEST - list.length)).fill("")];
  const set = (i) => (text) => onChange(shown.map((old, at) => (at === i ? text : old)));
  return html`${shown.map((text, i) => html`<${LengthField} key=${i} id=${`${id}-${i}`} name=${`${name}, reading ${i + 1}`} role="diameter" value=${text}
      onChange=${set(i)} onRead=${(heard) => onBad(`${id}-${i}`, Boolean(heard?.bad))} />`)}
    ${shown.length < MOST && html`<button class="full" onClick=${() => onChange([...shown, ""])}>Add a reading: ${name.toLowerCase()}</button>`}`;
}

export function FitFields({ method, values, by, change, onBad }) {
  const place = PLACES[method];
  if (!place) return null;
  const set = (name) => (value) => change({ measured: { ...values, [name]: value } });
  const outer = by === "wall" ? place.outside : place.bore;
  return html`<details><summary>Type your readings</summary>
    <p class="quiet">Both ends, a quarter turn apart. Four readings of each part tell more than two.</p>
    <${Readings} key=${place.inside} id="fit-inside" name=${place.insideName} list=${values[place.inside] || []} onChange=${set(place.inside)} onBad=${onBad} />
    <${Choices} name="bore-by" legend=${`${place.outer.replace(/[:,].*/, "")} bore`} value=${by} onChange=${(bore_by) => { onBad("fit-wall", false); change({ bore_by, measured: { ...values } }); }}
      options=${[{ key: "bore", name: "Bore measured" }, { key: "wall", name: "Outside and wall" }]} />
    <${Readings} key=${outer} id="fit-outer" name=${`${place.outer} ${by === "wall" ? "outside" : "bore"}`} list=${values[outer] || []} onChange=${set(outer)} onBad=${onBad} />
    ${by === "wall" && html`<${LengthField} id="fit-wall" name=${`${place.outer.replace(/[:,].*/, "")} wall`} role="wall" value=${values[place.wall] || ""} onChange=${set(place.wall)} onRead=${(heard) => onBad("fit-wall", Boolean(heard?.bad))} />`}
    <${LengthField} id="fit-bead" name="Weld bead inside, height" help="Leave empty where there is none." allowZero value=${values.bead || ""} onChange=${set("bead")} onRead=${(heard) => onBad("fit-bead", Boolean(heard?.bad))} />
  </details>`;
}
