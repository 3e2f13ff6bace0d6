// The drill and saw card, the rosette places that were searched for, and what both ask.
import { html } from "../../vendor/preact-htm/standalone.module.js";
import { LengthField } from "../lengthfield.js";
import { Choices, Tag, TextField } from "../parts.js";

const PLUGGED = ["outer-sleeve", "inner-sleeve", "larger-tube"];
const SAWN = [...PLUGGED, "split-sleeve"];
// A number goes as a number; anything else goes as typed, and the laptop says what is wrong with it.
const numeric = (text) => (Number.isFinite(Number(text)) ? Number(text) : text);
const said = (value) => (value === undefined || value === null ? "" : String(value));

/** What the card and the search ask beside the sizes, only what was filled in. */
export function cardInput(method, data, sleeves) {
  const input = {};
  if (!SAWN.includes(method)) return input;
  for (const name of ["saw_limit", "count"]) if (said(data[name]).trim()) input[name] = numeric(said(data[name]).trim());
  if (input.count === undefined && method === "outer-sleeve" && sleeves > 1) input.count = sleeves;
  if (data.block_distance?.trim()) input.block_distance = data.block_distance.trim();
  if (!PLUGGED.includes(method)) return input;
  const { per_tip, diameter, distance } = data.rosettes || {};
  const asked = { ...(per_tip && { per_tip }), ...(diameter?.trim() && { diameter: diameter.trim() }), ...(distance?.trim() && { distance: distance.trim() }) };
  return Object.keys(asked).length ? { ...input, rosettes: asked } : input;
}

const lines = (list) => html`<ol>${list.map((line, i) => html`<li key=${i}>${line}</li>`)}</ol>`;

export function Card({ card }) {
  if (!card) return null;
  const { drill } = card;
  return html`<details><summary>Drill and saw card</summary>
    ${card.warnings.map((w) => html`<p class=${w.rank < 3 ? "caution" : "note"} key=${w.text}>${w.text}</p>`)}
    <dl class="numbers">${card.numbers.map((n, i) => html`<dt key=${i}>${n.label} ${n.note && html`<span class="quiet">${n.note}</span>`}</dt><dd>${n.value?.text ?? n.value}</dd>`)}</dl>
    <h3>Set the saw</h3>${lines(card.saw.lines)}
    <h3>Cut</h3>${lines(card.cut_order)}
    ${drill && drill.holes > 0 && html`<h3>Drill ${drill.holes} holes</h3><p class="quiet">${drill.hole.text}</p>
      ${lines(drill.steps.map((step) => `${step.text}${step.rpm ? ` ${step.rpm}.` : ""}`))}`}
    ${card.count > 1 && html`<h3>Set-up order for ${card.count}</h3>${lines(card.batch)}`}
    <h3>Assumed</h3>
    <ul class="quiet">${[...card.assumptions, ...card.notes].map((line) => html`<li key=${line}>${line}</li>`)}</ul>
  </details>`;
}

/** Places of the rosettes that were asked for: each distance once, the tip lines repeat one another. */
export function RosetteSearch({ search }) {
  if (!search) return null;
  const once = search.stations.filter((one, i, all) => all.findIndex((other) => other.mark.text === one.mark.text) === i);
  return html`<section class="card"><div class="row spread"><h3>Rosettes: ${search.asked} on each tip line</h3><${Tag} word=${search.verdict} /></div>
    ${search.text.map((line) => html`<p key=${line}>${line}</p>`)}
    ${once.length > 0 && html`<p class="quiet">Hole ${search.diameter.text}. Measured ${search.measured_from}.</p>
    <dl class="numbers">${once.map((one, i) => html`<dt key=${i}>Hole ${i + 1} <span class="quiet">edge ${one.to_edge.text}, ${search.measured_from.includes("tube") ? "sleeve" : "stub"} end ${one.to_stub_end.text} away</span></dt><dd>${one.mark.text}</dd>`)}</dl>`}
    <ul class="quiet">${search.sources.map((line) => html`<li key=${line}>${line}</li>`)}</ul>
  </section>`;
}

export function CardFields({ method, data, change, sleeves }) {
  if (!SAWN.includes(method)) return null;
  const rosettes = data.rosettes || {};
  const setHole = (part) => change({ rosettes: { ...rosettes, ...part } });
  return html`<details><summary>Saw and rosette settings</summary>
    <${TextField} id="saw_limit" name="Saw's largest angle from square, degrees" help="The last mark it swings to. Leave empty for 45." inputmode="decimal" value=${said(data.saw_limit)} onChange=${(saw_limit) => change({ saw_limit })} />
    <${LengthField} id="block_distance" name="Block, along the fence" help="From where the tube touches the fence. Leave empty for 12 in, or 300 mm." value=${data.block_distance || ""} onChange=${(block_distance) => change({ block_distance })} />
    <${TextField} id="count" name="How many to make" help=${sleeves > 1 ? "Leave empty for two." : "Leave empty for the usual number."} inputmode="numeric" value=${said(data.count)} onChange=${(count) => change({ count })} />
    ${PLUGGED.includes(method) && html`
    <${Choices} name="per_tip" legend="Rosettes on each tip line" value=${rosettes.per_tip ? String(rosettes.per_tip) : "usual"} onChange=${(n) => setHole({ per_tip: n === "usual" ? undefined : Number(n) })}
      options=${[{ key: "usual" }, { key: "1" }, { key: "2" }, { key: "3" }]} />
    <${LengthField} id="rosette-diameter" name="Rosette hole diameter" role="diameter" help="Leave empty for the circular's." value=${rosettes.diameter || ""} onChange=${(diameter) => setHole({ diameter })} />
    <${LengthField} id="rosette-distance" name="Least distance, hole centre to edge" help="Leave empty for half the hole and one wall." value=${rosettes.distance || ""} onChange=${(distance) => setHole({ distance })} />`}
  </details>`;
}
