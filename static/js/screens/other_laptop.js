// A section that another laptop saved differently, found when its export was taken in.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { put } from "../api.js";
import { who } from "../kept.js";
import { Problem, when } from "../parts.js";
import { different, named, words } from "./conflict.js";

const PLACE = { measure: "Measure", choose: "Method", stock: "Sleeve", size: "Size", assess: "Assess", make: "Make" };

/** Both values side by side until a person takes one: either is saved as a new revision, and neither is lost. */
export function OtherLaptop({ job, setJob }) {
  const [trouble, setTrouble] = useState(null);
  if (!job.conflicts?.length || job.state === "sealed") return null;
  const keep = async (name, data) => {
    try {
      setTrouble(null);
      setJob(await put(`/api/jobs/${job.id}/sections/${name}`, { base_revision: job.sections[name].revision, data, who: who() || "?" }));
    } catch (problem) {
      setTrouble(problem);
    }
  };
  return html`<section class="card refused" aria-labelledby="other-laptop">
    <h2 id="other-laptop">Another laptop saved this differently</h2>
    <${Problem} trouble=${trouble} />
    ${job.conflicts.map((theirs) => {
      const ours = job.sections[theirs.name];
      return html`<div key=${`${theirs.name}${theirs.at}${theirs.who}`}>
        <h3>${PLACE[theirs.name] ?? theirs.name}</h3>
        <p class="quiet">Here: ${ours.who}, ${when(ours.at)}. There: ${theirs.who}, ${when(theirs.at)}.</p>
        <dl class="numbers">${different(theirs.data, ours.data).map((row) => html`<dt key=${row.path}>${named(row.path)}</dt><dd>here ${words(row.mine)}<br />there ${words(row.theirs)}</dd>`)}</dl>
        <div class="row"><button onClick=${() => keep(theirs.name, ours.data)}>Keep what is here</button><button onClick=${() => keep(theirs.name, theirs.data)}>Take the other</button></div>
      </div>`;
    })}
    <p class="quiet">Both stay in the history.</p>
  </section>`;
}
