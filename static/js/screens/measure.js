// Measure: the tube, the damage, the room around it, and what nobody may guess.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ask, get } from "../api.js";
import { LengthField } from "../lengthfield.js";
import { Bar, Choices, Problem, SelectField, useLoad } from "../parts.js";
import { Photos } from "../photos.js";
import { useSection } from "./job.js";

const DAMAGE_TEXT = { "cut-out": "to be cut out", dent: "", crack: "", hole: "", bend: "" };
const PATCH_QUESTIONS = ["middle_third", "sharp_corners", "can_reform"];
const KNOWN_TEXT = { certificate: "by paper", mark: "by mark", assumption: "assumed" };

export function questionsFor(damage, all) {
  const patch = { dent: PATCH_QUESTIONS, hole: ["middle_third"] }[damage] || [];
  return Object.keys(all).filter((name) => !PATCH_QUESTIONS.includes(name) || patch.includes(name));
}

export function lengthsFor(damage) {
  return { dent: ["depth", "damage_length", "around"], hole: ["damage_length", "around"], crack: ["damage_length"], bend: ["damage_length"] }[damage] || [];
}

/** What goes to the laptop: only what was filled in, only what this kind of damage asks. */
export function findings(data, choices) {
  const kept = { tube: { ...data.tube, seam: data.tube.seam || "unknown" }, damage: data.damage, known_by: data.known_by || "assumption" };
  const readings = (data.od_readings || []).filter((text) => text.trim());
  if (readings.length) kept.od_readings = [data.tube.od, ...readings];
  for (const name of ["room_left", "room_right", ...lengthsFor(data.damage)]) if (data[name]?.trim()) kept[name] = data[name];
  for (const name of questionsFor(data.damage, choices.questions)) kept[name] = data[name] || "unknown";
  if (data.member) kept.member = data.member;
  return kept;
}

export function Measure({ job, setJob, next }) {
  const [choices] = useLoad(() => get("/api/choices"), []);
  const [sheet] = useLoad(() => get("/api/rules"), []);
  const { data, change, save, trouble, sealed } = useSection(job, setJob, "measure", { tube: { od: "", wall: "", material: "", seam: "" }, od_readings: [""] });
  const [refused, setRefused] = useState(null);
  if (!choices.data) return html`<${Problem} trouble=${choices.trouble} />`;
  const words = choices.data;
  const tube = data.tube;
  const setTube = (part) => change((old) => ({ tube: { ...old.tube, ...part } }));
  const missing = [!tube.od?.trim() && "outside diameter", !tube.wall?.trim() && "wall", !tube.material && "material", !data.damage && "kind of damage"].filter(Boolean);
  const steel = words.materials.find((m) => m.key === tube.material);
  const finish = async () => {
    const body = findings(data, words);
    try {
      await ask("/api/assess", body);
    } catch (problem) {
      setRefused(problem);
      return;
    }
    setRefused(null);
    if (await save(body)) next();
  };
  return html`
    <h1>Measure</h1>
    <${Problem} trouble=${refused || trouble} />
    <h2>The tube</h2>
    <${LengthField} id="od" name="Outside diameter" role="diameter" help="Clean, bare tube, away from the damage." value=${tube.od} onChange=${(od) => setTube({ od })} />
    <${LengthField} id="od2" name="Again, a quarter turn round" role="diameter" help="The two tell how oval the tube is." value=${data.od_readings?.[data.od_readings.length > 1 ? 1 : 0] || ""}
      onChange=${(text) => change({ od_readings: [text] })} />
    <${LengthField} id="wall" name="Wall" role="wall" help="At a cut end or a drilled hole, with a caliper or wall gauge. Example: .120, 11 ga, 3 mm." value=${tube.wall} onChange=${(wall) => setTube({ wall })} />
    <${SelectField} id="material" name="Material" value=${tube.material} options=${words.materials} onChange=${(material) => setTube({ material })} />
    ${steel?.note && html`<p class="note">${steel.note}</p>`}
    <${Choices} name="known" legend="How is the material known?" value=${data.known_by} onChange=${(known_by) => change({ known_by })}
      options=${words.known_by.map((key) => ({ key, name: KNOWN_TEXT[key] }))} />
    <${Choices} name="seam" legend="Weld seam inside the tube" value=${tube.seam} onChange=${(seam) => setTube({ seam })} options=${words.seams.map((s) => ({ key: s.key, name: s.text }))} />
    <${Member} sheet=${sheet.data} value=${data.member} onChange=${(member) => change({ member })} />
    <h2>The damage</h2>
    <${Choices} name="damage" legend="Kind of damage" value=${data.damage} onChange=${(damage) => change({ damage })} options=${words.damage.map((key) => ({ key, name: key, text: DAMAGE_TEXT[key] }))} />
    ${lengthsFor(data.damage).map((name) => html`<${LengthField} key=${name} id=${name} name=${words.lengths[name]} value=${data[name] || ""} allowZero onChange=${(text) => change({ [name]: text })} />`)}
    <${Photos} job=${job} setJob=${setJob} text="Measure" />
    <h2>Room on each side</h2>
    ${["room_left", "room_right"].map((name) => html`<${LengthField} key=${name} id=${name} name=${name === "room_left" ? "Room on the left" : "Room on the right"} help="From the damage to the nearest joint, bend, tab or old weld."
      value=${data[name] || ""} allowZero onChange=${(text) => change({ [name]: text })} />`)}
    <h2>Look before you plan</h2>
    ${questionsFor(data.damage, words.questions).map((name) => html`<${Choices} key=${name} name=${name} legend=${words.questions[name]} value=${data[name] || "unknown"}
      onChange=${(answer) => change({ [name]: answer })} options=${[{ key: "yes" }, { key: "no" }, { key: "unknown", name: "not looked" }]} />`)}
    <${Bar} missing=${missing.length ? `Still missing: ${missing.join(", ")}.` : ""}>
      <button class="main full" disabled=${missing.length > 0 || sealed} onClick=${finish}>${sealed ? "Sealed" : "Save, see the methods"}</button>
    <//>`;
}

function Member({ sheet, value, onChange }) {
  if (!sheet) return null; // Still loading: nothing is known to be missing yet.
  if (sheet.problem) return html`<div class="note"><p><b>Your rule sheet ${sheet.source} is not used.</b></p>
    ${[sheet.problem, ...(sheet.problem.others || [])].map((one) => html`<p>${one.field && `${one.field}: `}${one.title} Given: ${one.given}. ${one.next}</p>`)}
    <${Forget} value=${value} onChange=${onChange} /></div>`;
  const members = sheet.members;
  if (!members.length) return html`<${Forget} value=${value} onChange=${onChange} />`;
  // A member that has left the sheet stays in view, so that it can be changed.
  const offered = !value || members.includes(value) ? members : [...members, value];
  return html`<${SelectField} id="member" name="Member" help=${`From your rule sheet, ${sheet.source}.`} value=${value} options=${offered.map((name) => ({ key: name, name }))} onChange=${onChange} />`;
}

/** A job can name a member of a sheet that is gone: one press takes it off. */
function Forget({ value, onChange }) {
  return value ? html`<p>Member: ${value}, of a rule sheet that is not here.</p><button class="full" onClick=${() => onChange("")}>Take the member off</button>` : null;
}
