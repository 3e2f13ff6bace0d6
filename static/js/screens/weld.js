// Weld: the READ-DO list, one step large on the screen, the group around it below.
import { html, useEffect, useRef, useState } from "../../vendor/preact-htm/standalone.module.js";
import { get, post } from "../api.js";
import { who } from "../kept.js";
import { LengthField } from "../lengthfield.js";
import { setBusy as setUnderWay } from "../offline/status.js";
import { Bar, Defer, Problem, TextField, useLoad, when } from "../parts.js";
import { Photos } from "../photos.js";

export function Weld({ job, setJob, reload, next }) {
  const [loaded, setLoaded] = useLoad(() => get(`/api/jobs/${job.id}/checklist`), [job.id]);
  const [shown, setShown] = useState(null);
  const [trouble, setTrouble] = useState(null);
  const [value, setValue] = useState("");
  const [skipping, setSkipping] = useState(false);
  const [reason, setReason] = useState("");
  const [busy, setBusy] = useState(false);
  const card = useRef(null);
  const unfinished = Boolean(value.trim() || reason.trim() || skipping || busy);
  // No new version of the page is put under an entry that is not finished.
  useEffect(() => { setUnderWay("step", unfinished); return () => setUnderWay("step", false); }, [unfinished]);
  useEffect(() => {
    const fresh = () => get(`/api/jobs/${job.id}/checklist`).then(setLoaded, () => {});
    addEventListener("laptop-answers", fresh);
    return () => removeEventListener("laptop-answers", fresh);
  }, [job.id]);
  if (loaded.trouble) return html`<${Problem} trouble=${loaded.trouble} /><a class="button main full" href=${`/job/${job.id}/method`}>Go to Method</a>`;
  if (!loaded.data) return html`<p>Loading the checklist.</p>`;
  const { checklist, state } = loaded.data;
  const steps = checklist.groups.flatMap((group) => group.steps);
  const key = shown && steps.some((s) => s.key === shown) ? shown : state.next || steps[steps.length - 1].key;
  const step = steps.find((s) => s.key === key);
  const group = checklist.groups.find((g) => g.steps.includes(step));
  const at = state.steps[key];
  const { counts } = state;
  const toNext = (fresh) => {
    setLoaded({ checklist, state: fresh });
    setShown(null);
    setValue("");
    setReason("");
    setSkipping(false);
    setTrouble(null);
    if (fresh.finished) setJob({ ...job, finished: true });
    card.current?.scrollIntoView({ block: "start" });
  };
  const mark = async (action) => {
    setBusy(true);
    const event = { step: key, action, who: who(), when: new Date().toISOString() };
    if (step.hold && (action === "done" || action === "note") && value.trim()) event.value = value.trim();
    if (reason.trim()) event.reason = reason.trim();
    try {
      toNext((await post(`/api/jobs/${job.id}/steps`, event, { text: step.text })).state);
    } catch (problem) {
      setTrouble(problem);
      // A refused measurement is written down as well: the record shows what was read.
      if (problem.body?.type?.endsWith("hold-not-met")) {
        post(`/api/jobs/${job.id}/steps`, { ...event, action: "note" }, { text: step.text }).then((kept) => setLoaded({ checklist, state: kept.state }), () => {});
      }
    }
    setBusy(false);
  };
  const sealed = job.state === "sealed";
  return html`
    <h1>${checklist.title}</h1>
    <div class="progress" role="progressbar" aria-label="Steps done" aria-valuemin="0" aria-valuemax=${counts.total} aria-valuenow=${counts.total - counts.open}>
      <${Fill} share=${(counts.total - counts.open) / counts.total} /></div>
    <p class="quiet">${counts.total - counts.open} of ${counts.total} · wording ${checklist.version}</p>
    <section class="stepcard" ref=${card} aria-live="polite">
      <p class="quiet">${group.title} · step ${group.steps.indexOf(step) + 1} of ${group.steps.length}${group.any_order ? " · any order" : ""}</p>
      <p class="do">${step.text}</p>
      ${step.why && html`<p>${step.why}</p>`}
      ${step.cautions.map((c) => html`<p class="caution" key=${c.text}>${c.text}<small>${c.source}</small></p>`)}
      <${Problem} trouble=${trouble} />
      ${at.state !== "open" && html`<p class="note">${at.state === "done" ? "Done" : "Skipped"} by ${at.by}, ${when(at.when)}${at.value ? `: ${at.value}` : ""}${at.reason ? `. ${at.reason}` : ""}</p>`}
      ${at.state === "open" && step.hold && html`<div class="hold">
        <p><b>Hold: ${step.hold.limit_text}</b></p>
        ${step.hold.unit === "in" ? html`<${LengthField} id="hold" name=${step.hold.ask} value=${value} role=${step.hold.role} allowZero onChange=${setValue} />`
          : html`<${TextField} id="hold" name=${step.hold.ask} help="For example 30 min" value=${value} onChange=${setValue} />`}</div>`}
      ${at.state === "open" && step.timer && html`<${Timer} job=${job.id} step=${key} timer=${step.timer} />`}
      ${skipping && html`<${TextField} id="reason" name="Why is it skipped?" help="The record keeps this." value=${reason} onChange=${setReason} maxlength="500" />`}
      <${Photos} job=${job} setJob=${setJob} step=${key} text=${step.text} />
      <p class="quiet">${step.basis}</p>
    </section>
    <details open><summary>${group.title}</summary><${Steps} steps=${group.steps} state=${state} current=${key} onPick=${setShown} /></details>
    ${checklist.groups.filter((g) => g !== group).map((g) => html`<details key=${g.key}><summary>${g.title} (${g.steps.filter((s) => state.steps[s.key].state !== "open").length} of ${g.steps.length})</summary>
      <${Steps} steps=${g.steps} state=${state} current=${key} onPick=${setShown} /></details>`)}
    <${Defer} />
    <${Bar} missing=${state.look_again.length ? `Look again at ${state.look_again.length} step${state.look_again.length > 1 ? "s" : ""} after the change.` : ""}>
      ${state.finished && !shown ? html`<button class="main full" onClick=${async () => { await reload(); next(); }}>All steps marked: go to the tag</button>`
        : at.state !== "open" ? html`<div class="row"><button disabled=${busy || sealed} onClick=${() => mark("undo")}>Reopen</button><button class="main wide" onClick=${() => setShown(null)}>Go to the open step</button></div>`
        : skipping ? html`<div class="row"><button onClick=${() => setSkipping(false)}>Back</button><button class="main wide" disabled=${busy || sealed || reason.trim().length < 3} onClick=${() => mark("skip")}>Skip with this reason</button></div>`
        : html`<div class="row">${step.skippable && html`<button disabled=${busy || sealed} onClick=${() => setSkipping(true)}>Skip</button>`}
            <button class="main wide" disabled=${busy || sealed || (step.hold && !value.trim())} onClick=${() => mark("done")}>${step.hold ? "Measured, done" : "Done"}</button></div>`}
    <//>`;
}

function Fill({ share }) {
  const bar = useRef(null);
  useEffect(() => { bar.current.style.width = `${Math.round(share * 100)}%`; }, [share]);
  return html`<i ref=${bar}></i>`;
}

function Steps({ steps, state, current, onPick }) {
  return html`<ol class="steps">${steps.map((step) => {
    const at = state.steps[step.key];
    const mark = { done: "✓", skipped: "–", open: step.hold ? "▭" : "○" }[at.state];
    return html`<li key=${step.key} class=${step.key === current ? "now" : ""}>
      <span class="mark" aria-hidden="true">${mark}</span>
      <button class="line" onClick=${() => onPick(step.key)}>${step.text}<span class="hide"> (${at.state})</span>
        ${at.by && html`<small>${at.by}${at.value ? `, ${at.value}` : ""}${at.reason ? `, ${at.reason}` : ""}</small>`}${at.look_again && html`<b>Look again</b>`}</button>
    </li>`;
  })}</ol>`;
}

/** Counts from the moment it was started, so a locked screen or a reload does not stop it. */
function Timer({ job, step, timer }) {
  const name = `timer ${job} ${step}`;
  const [start, setStart] = useState(() => Number(localStorage.getItem(name)) || 0);
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    if (!start) return undefined;
    const tick = setInterval(() => setNow(Date.now()), 500);
    return () => clearInterval(tick);
  }, [start]);
  const begin = () => {
    const at = Date.now();
    localStorage.setItem(name, String(at));
    setStart(at);
    setNow(at);
  };
  const passed = Math.floor((now - start) / 1000);
  const left = Math.max(0, timer.seconds - passed);
  const text = (seconds) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
  return html`<div class="note"><p>${timer.text}</p>
    ${start ? html`<p class="timer" role="timer">${left ? text(left) : html`Time is up<small>at ${new Date(start + timer.seconds * 1000).toLocaleTimeString()}, ${text(passed - timer.seconds)} ago</small>`}</p>` : html`<button class="full" onClick=${begin}>Start ${Math.round(timer.seconds / 60)} min</button>`}</div>`;
}
