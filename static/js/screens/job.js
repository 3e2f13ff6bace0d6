// One job: its path of six places, and the saving that all of them share.
import { html, useCallback, useEffect, useState } from "../../vendor/preact-htm/standalone.module.js";
import { get, put } from "../api.js";
import { draft, dropDraft, keepDraft, setWho, who } from "../kept.js";
import { Problem, TextField, lazy, useLoad } from "../parts.js";
import { go } from "../router.js";
import { OtherLaptop } from "./other_laptop.js";

export const PLACES = [
  { key: "measure", name: "Measure", screen: lazy(() => import("./measure.js"), "Measure"), done: (job) => job.sections.measure },
  { key: "method", name: "Method", screen: lazy(() => import("./method.js"), "Method"), done: (job) => job.sections.choose },
  { key: "sleeve", name: "Sleeve", screen: lazy(() => import("./sleeve.js"), "Sleeve"), done: (job) => job.sections.stock },
  { key: "size", name: "Size", screen: lazy(() => import("./size.js"), "Size"), done: (job) => job.sections.size },
  { key: "weld", name: "Weld", screen: lazy(() => import("./weld.js"), "Weld"), done: (job) => job.finished },
  { key: "tag", name: "Tag", screen: lazy(() => import("./tag.js"), "TagPlace"), done: (job) => job.record },
];

export function Job({ parts }) {
  const [, id, wanted] = parts;
  const [state, setJob] = useLoad(() => get(`/api/jobs/${id}`), [id]);
  const place = PLACES.find((one) => one.key === wanted) || PLACES[0];
  const reload = useCallback(async () => setJob(await get(`/api/jobs/${id}`)), [id]);
  useEffect(() => {
    // The laptop is back, or has what was not sent: what others did in between is shown.
    const fresh = () => reload().catch(() => {});
    addEventListener("laptop-answers", fresh);
    return () => removeEventListener("laptop-answers", fresh);
  }, [reload]);
  if (state.loading) return html`<main class="page" id="content"><p>Loading the job.</p></main>`;
  if (state.trouble) return html`<main class="page" id="content"><${Problem} trouble=${state.trouble} /><a class="button" href="/">Go to the start</a></main>`;
  const job = state.data;
  const index = PLACES.indexOf(place);
  const step = {
    job,
    setJob,
    reload,
    next: () => go(`/job/${job.id}/${PLACES[index + 1].key}`),
  };
  return html`<main class="page" id="content">
    <ol class="path" aria-label="Path of this job">${PLACES.map((one, i) => html`<li key=${one.key}>
      <a href=${`/job/${job.id}/${one.key}`} class=${one.done(job) ? "done" : ""} aria-current=${one === place ? "step" : undefined}>
        <span class="dot" aria-hidden="true">${one.done(job) ? "✓" : i + 1}</span>${one.name}<span class="hide">${one.done(job) ? ", done" : ", to do"}</span>
      </a></li>`)}</ol>
    <p class="quiet">${job.title} · <span class="mono">${job.id_text}</span></p>
    ${!who() && html`<${AskName} onDone=${() => setJob({ ...job })} />`}
    <${OtherLaptop} job=${job} setJob=${setJob} />
    <${place.screen} key=${`${place.key} ${job.conflicts?.length ?? 0}`} ...${step} />
  </main>`;
}

function AskName({ onDone }) {
  const [name, setName] = useState("");
  return html`<form class="card pick" onSubmit=${(event) => { event.preventDefault(); setWho(name); onDone(); }}>
    <${TextField} id="who" name="Your name, for the record" value=${name} onChange=${setName} maxlength="80" />
    <button class="main" disabled=${!name.trim()}>Keep my name</button>
  </form>`;
}

/**
 * The data of one section: what is saved, what is typed but not saved (kept on this phone), and save().
 * A change made on another phone meanwhile is shown, never overwritten.
 */
export function useSection(job, setJob, name, initial) {
  const saved = job.sections[name];
  const [data, setData] = useState(() => draft(job.id, name) || saved?.data || initial);
  const [trouble, setTrouble] = useState(null);
  const [base, setBase] = useState(saved?.revision || 0);
  const change = (part) => setData((old) => {
    const fresh = { ...old, ...(typeof part === "function" ? part(old) : part) };
    keepDraft(job.id, name, fresh);
    return fresh;
  });
  const save = async (given = data) => {
    try {
      const fresh = await put(`/api/jobs/${job.id}/sections/${name}`, { base_revision: base, data: given, who: who() });
      dropDraft(job.id, name);
      setBase(fresh.sections[name].revision);
      setJob(fresh);
      setTrouble(null);
      return fresh;
    } catch (problem) {
      setTrouble(problem);
      // Both values wait under Not sent yet; the draft would only hide what is decided there.
      if (problem.operation) dropDraft(job.id, name);
      return null;
    }
  };
  return { data, change, save, trouble, sealed: job.state === "sealed" };
}

/** Recompute on the laptop whenever the input changes; null while it is not complete. */
export function useAnswer(ask, input) {
  const [answer, setAnswer] = useState({});
  const text = input === null ? null : JSON.stringify(input);
  useEffect(() => {
    if (text === null) {
      setAnswer({});
      return undefined;
    }
    let current = true;
    const timer = setTimeout(() => {
      ask(JSON.parse(text)).then((data) => current && setAnswer({ data }), (trouble) => current && setAnswer({ trouble }));
    }, 150);
    return () => { current = false; clearTimeout(timer); };
  }, [text]);
  return answer;
}
