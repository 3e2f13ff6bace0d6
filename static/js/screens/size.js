// Size: the number to cut, the drawing, the saw, the holes, and every rule it is held to.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ask, post } from "../api.js";
import { who } from "../kept.js";
import { LengthField } from "../lengthfield.js";
import { Bar, Check, Defer, Drawing, Problem, Sources } from "../parts.js";
import { Card, CardFields, RosetteSearch, cardInput } from "./card.js";
import { Fit, FitFields, boreBy, measuredInput, readings, unfinished } from "./fit.js";
import { Strength } from "./strength.js";
import { useAnswer, useSection } from "./job.js";
import { Ways } from "./sleeve.js";

// What each method asks at this place, beside what was measured and chosen before.
const ASKED = {
  "outer-sleeve": ["gap", "trim", "kerf", "opening", "replacement", "length"],
  "inner-sleeve": ["gap", "bead", "turned_od", "length"],
  "larger-tube": ["opening", "stub_short", "stub_long", "length"],
  "split-sleeve": ["damage_length", "kerf", "length"],
  patch: ["margin"],
};
const WORDS = {
  gap: ["Gap between the stub ends", "Leave empty for the usual one."],
  trim: ["Trim on each end", "Extra to true up after the saw. Leave empty for none."],
  kerf: ["Saw kerf", "Width of the cut. Leave empty if not known."],
  length: ["Already cut? Length to judge", "Tip to tip on the outside. Leave empty to cut by the rule."],
  opening: ["Opening, stub end to stub end", "With the damage cut out. Leave empty if nothing is replaced."],
  replacement: ["Replacement piece, length", "Leave empty to see how long it must be."],
  bead: ["Height of the bead inside the tube", "Leave empty for no bead."],
  turned_od: ["Sleeve turned down to", "Outside diameter after turning. Leave empty if it is not turned."],
  stub_short: ["Short stub", "Free length up to the joint, bend or tab."],
  stub_long: ["Long stub", "Free length up to the joint, bend or tab."],
  damage_length: ["Length of the damage along the tube", ""],
  margin: ["Patch past the damage, each side", "From the circular's figure or the inspector. Leave empty if not known."],
};
const PATCH_ANSWERS = ["middle_third", "sharp_corners", "can_reform"];

export function sizeInput(job, typed) {
  const measured = job.sections.measure.data;
  const { method, end, mitre_deg } = job.sections.choose.data;
  const { od, wall, material, seam } = job.sections.stock.data;
  const input = { tube: measured.tube };
  if (method === "patch") {
    Object.assign(input, { patch: { wall, material }, damage: measured.damage });
    for (const name of ["depth", "damage_length", "around", ...PATCH_ANSWERS]) if (measured[name]) input[name] = measured[name];
  } else {
    input.sleeve = { od, wall, material, seam: seam || "unknown" };
    if (method !== "inner-sleeve") input.end = end;
    if (method === "inner-sleeve" || end !== "square") input.mitre_deg = mitre_deg;
    if (method === "split-sleeve") Object.assign(input, { damage: measured.damage }, measured.damage_length && { damage_length: measured.damage_length });
  }
  if (method !== "outer-sleeve") input.method = method;
  for (const name of ASKED[method]) if (typed[name]?.trim()) input[name] = typed[name].trim();
  if (measured.member) input.member = measured.member;
  const taken = method !== "patch" && measuredInput(method, readings(method, typed, measured), boreBy(method, typed));
  return { ...input, ...(taken && { measured: taken }), ...cardInput(method, typed, job.sections.choose.data.sleeves) };
}

export function Size({ job, setJob, next }) {
  const ready = job.sections.measure && job.sections.choose && job.sections.stock;
  const { data, change, save, trouble, sealed } = useSection(job, setJob, "size", { turned_od: job.sections.stock?.data.turned_od });
  const method = ready ? job.sections.choose.data.method : "";
  const [bad, setBad] = useState({});
  const input = ready ? sizeInput(job, data) : null;
  // A reading that cannot be read is told at its field; the sizes go on without it.
  if (input && Object.values(bad).some(Boolean)) delete input.measured;
  const answer = useAnswer((body) => ask("/api/size?drawing=1", body), input);
  if (!ready) return html`<p class="note">Measure, choose the method and pick a sleeve first.</p><a class="button main full" href=${`/job/${job.id}/sleeve`}>Go to Sleeve</a>`;
  const sized = answer.data;
  const missed = sized ? sized.checks.filter((c) => c.verdict === "not met").length : 0;
  const set = (name) => (text) => change({ [name]: text });
  const values = readings(method, data, job.sections.measure.data);
  const by = values && boreBy(method, data);
  const open = unfinished(method, data, job.sections.measure.data, by, bad);
  const { sleeves } = job.sections.choose.data;
  return html`
    <h1>Size the sleeve</h1>
    <${Problem} trouble=${answer.trouble || trouble} />
    ${sized && (method === "outer-sleeve" ? html`<${Result} sized=${sized} />` : html`<${OtherResult} sized=${sized} />`)}
    ${sized && html`<${RosetteSearch} search=${sized.rosette?.search} /><${RuleSheet} checks=${sized.shop_rules} member=${job.sections.measure.data.member} />
      <${Fit} fit=${sized.fit} />`}
    ${values && html`<${FitFields} method=${method} values=${values} by=${by} change=${change} onBad=${(id, is) => setBad((old) => (Boolean(old[id]) === is ? old : { ...old, [id]: is }))} />`}
    ${sized && html`<${Card} card=${sized.card} />`}
    <h2>Shop settings</h2>
    <${CardFields} method=${method} data=${data} change=${change} sleeves=${sleeves} />
    ${ASKED[method].map((name) => html`<${LengthField} key=${name} id=${name} name=${WORDS[name][0]} help=${WORDS[name][1]} value=${data[name] || ""} allowZero onChange=${set(name)} />`)}
    ${sized && html`<h2>Every rule</h2>${sized.checks.map((c) => html`<${Check} key=${c.id} check=${c} />`)}
      <${Strength} strength=${sized.strength} />
      <${Sources} assumptions=${sized.assumptions} sources=${sized.sources} />
      <${Templates} job=${job} bare=${Boolean(sized.rosette?.search)} />
      <${TakeStock} job=${job} sized=${sized} />`}
    <${Defer} />
    <${Bar} missing=${open || (sized ? (missed ? `${missed} rule${missed > 1 ? "s" : ""} not met. Ask the inspector before you cut.` : "") : "Working it out.")}>
      <button class="main full" disabled=${!sized || sealed || open !== ""} onClick=${async () => (await save(input)) && next()}>${sealed ? "Sealed" : "Save, start the checklist"}</button>
    <//>`;
}

/** The numbers of a method in the order a person needs them, as the core lists them. */
export function OtherResult({ sized }) {
  const cut = sized.length?.given || sized.length?.blank;
  return html`
    ${cut && html`<p class="quiet">${sized.length.given ? "Judging a length of" : "Cut the blank"}</p><p class="big" data-testid="blank">${cut.text}</p>`}
    ${sized.warnings.filter((w) => w.rank < 3).map((w) => html`<p class="caution" key=${w.text}>${w.text}</p>`)}
    <dl class="numbers">${sized.numbers.map((n) => html`<dt key=${n.label}>${n.label} ${n.note && html`<span class="quiet">${n.note}</span>`}</dt><dd>${n.value?.text ?? n.value}</dd>`)}</dl>
    <${Ways} options=${sized.options} />
    ${sized.order?.length > 0 && html`<h2>Order of work</h2><ol>${sized.order.map((line) => html`<li key=${line}>${line}</li>`)}</ol>`}
    ${sized.warnings.filter((w) => w.rank >= 3).map((w) => html`<p class="note" key=${w.text}>${w.text}</p>`)}`;
}

export function Result({ sized }) {
  const { length, overlap, rosette, saw } = sized;
  const given = length.given;
  return html`
    <p class="quiet">${given ? "Judging a sleeve of" : "Cut the blank"}, tip to tip on the outside</p>
    <p class="big" data-testid="blank">${(given || length.blank).text}</p>
    <${Drawing} svg=${sized.drawing} />
    ${sized.warnings.filter((w) => w.rank < 3).map((w) => html`<p class="caution" key=${w.text}>${w.text}</p>`)}
    <dl class="numbers">
      <dt>Rule length, on the sleeve's outside</dt><dd>${length.rule.text}<br /><span class="quiet">${length.rule.in.toFixed(3)} in, ${length.rule.mm.toFixed(1)} mm</span></dd>
      <dt>Shop shorthand <span class="quiet">(common practice, no source)</span></dt><dd>${length.shorthand.text}</dd>
      <dt>Shorthand gives on the outside</dt><dd>${length.shorthand_overlap.sleeve_outside.text}</dd>
      <dt>Shorthand gives on the inside</dt><dd>${length.shorthand_overlap.sleeve_inside.text}</dd>
      <dt>Shorthand gives on the weld-root line</dt><dd>${length.shorthand_overlap.weld_root.text}</dd>
      <dt>Overlap needed past each stub end</dt><dd>${overlap.required.text}</dd>
      <dt>Overlap on the outside, ${overlap.judged_at}</dt><dd>${overlap.sleeve_outside.text}</dd>
      <dt>Bar used, with the kerf</dt><dd>${length.bar_use.text}</dd>
    </dl>
    <h2>At the saw</h2>
    <dl class="numbers">
      <dt>Saw angle from square</dt><dd>${saw.mitre_deg}°</dd>
      <dt>That is, to the tube's axis</dt><dd>${saw.to_axis_deg}°</dd>
      <dt>Cuts on each end</dt><dd>${saw.cuts_per_end}</dd>
      <dt>Depth of the cut, on the outside</dt><dd>${length.cut_depth.text}</dd>
      <dt>Weld line, one end</dt><dd>${sized.weld_line.text}</dd>
    </dl>
    ${saw.note && html`<p class="caution">${saw.note}</p>`}
    <h2>Rosette holes</h2>
    <p><b>${rosette.drill}</b></p>
    ${!rosette.search && html`<p>${rosette.per_end} on each end${rosette.per_end > 1 ? ", each on the line of a tip" : ""} <span class="quiet">(common practice, no source)</span>.</p>`}
    ${!rosette.search && rosette.stations[0] && html`<dl class="numbers">
      <dt>Tip to hole centre</dt><dd>${rosette.stations[0].from_tip.text}</dd>
      <dt>Sleeve middle to hole centre</dt><dd>${rosette.stations[0].from_middle.text}</dd>
      <dt>Metal left to the nearest edge</dt><dd>${rosette.stations[0].edge_room.text}</dd>
    </dl>`}
    <dl class="numbers">${rosette.sizes.map((s) => html`<dt key=${s.key}>${s.source}<br /><span class="quiet">${s.text}</span></dt><dd>${s.diameter.text}</dd>`)}</dl>
    ${sized.warnings.filter((w) => w.rank >= 3).map((w) => html`<p class="note" key=${w.text}>${w.text}</p>`)}`;
}

function RuleSheet({ checks, member }) {
  return checks ? html`<section class="card"><h2>Your rule sheet</h2><p class="quiet">${member}</p>${checks.map((c) => html`<${Check} key=${c.id} check=${c} />`)}</section>` : null;
}

function Templates({ job, bare }) {
  if (!job.sections.size) return html`<p class="quiet">Save the size to print a 1:1 wrap template.</p>`;
  const saved = job.sections.size.data;
  if (saved.method === "patch" && !saved.margin) return html`<p class="quiet">A patch has a template once its reach past the damage is saved.</p>`;
  const path = `/api/jobs/${job.id}/template`;
  return html`<h2>Wrap template, 1:1</h2>
    <p class="quiet">From the size as last saved. Print at 100 % and measure the check bar.${bare && " It leaves the rosettes off: mark them by the card."}</p>
    <div class="homebuttons">
      <a class="button" href=${`${path}?kind=pdf&sheet=a4`} target="_blank" rel="noopener">PDF, A4</a>
      <a class="button" href=${`${path}?kind=pdf&sheet=letter`} target="_blank" rel="noopener">PDF, Letter</a>
      <a class="button" href=${`${path}?kind=svg`} target="_blank" rel="noopener">SVG</a>
      <a class="button" href=${`${path}?kind=dxf`} download>DXF of the flat blank</a>
    </div>`;
}

function TakeStock({ job, sized }) {
  const stock = job.sections.stock.data;
  // An inner sleeve is one for each of the two cuts.
  const { sleeves } = job.sections.choose.data;
  const [state, setState] = useState({});
  if (stock.from !== "rack" || !stock.item) return null;
  const use = sized.length?.bar_use || sized.length?.blank;
  if (!use) return null;
  const length = `${(Math.ceil(use.in * sleeves * 1000) / 1000).toFixed(3)} in`;
  const take = async () => {
    setState({ busy: true });
    try {
      const item = await post(`/api/stock/${stock.item}/take`, { length, reason: `${sleeves} sleeve${sleeves > 1 ? "s" : ""} for ${job.id_text}`, job: job.id, who: who() });
      setState({ taken: item });
    } catch (trouble) {
      setState({ trouble });
    }
  };
  return html`<h2>Take it from the rack</h2>
    <${Problem} trouble=${state.trouble} />
    ${state.taken ? html`<p class="note" role="status">Taken: ${length}. Left on the bar: ${(state.taken.item || state.taken).on_hand.text}.</p>`
      : html`<button class="full" disabled=${state.busy} onClick=${take}>Take ${length} off bar ${stock.item} (${sleeves} ${sleeves > 1 ? "sleeves" : "sleeve"})</button>`}`;
}
