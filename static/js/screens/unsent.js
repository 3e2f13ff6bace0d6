// Not sent yet: each thing this phone has written down and the laptop has not acknowledged.
import { html, useEffect, useState } from "../../vendor/preact-htm/standalone.module.js";
import { useStatus } from "../frame.js";
import { exportQueue } from "../offline/export.js";
import { kindOf } from "../offline/judge.js";
import { ready } from "../offline/phone.js";
import { ago, lastOf, stateOf, whatOf, whereOf } from "../offline/words.js";
import { Bar, Problem, TextField } from "../parts.js";
import { Conflict } from "./conflict.js";

const doing = (work) => async () => work((await ready).outbox);

function Dropping({ op, onClose }) {
  const [reason, setReason] = useState("");
  return html`<div class="field">
    <${TextField} id=${`drop-${op.key}`} name="Why is it dropped?" help="It will never reach the laptop. This phone keeps it with your reason." value=${reason} onChange=${setReason} maxlength="500" />
    <div class="row"><button onClick=${onClose}>Keep it</button><button class="danger" disabled=${reason.trim().length < 3} onClick=${doing((outbox) => outbox.drop(op.key, reason))}>Drop it</button></div>
  </div>`;
}

function Decide({ op }) {
  const [dropping, setDropping] = useState(false);
  if (dropping) return html`<${Dropping} op=${op} onClose=${() => setDropping(false)} />`;
  if (kindOf(op.problem) === "section-changed") return html`<${Conflict} op=${op} />`;
  const isMark = op.path.endsWith("/steps") && JSON.parse(op.body).action !== "note";
  return html`<${Problem} trouble=${{ body: op.problem }} />
    <div class="homebuttons">
      <button onClick=${doing(async (outbox) => { await outbox.sendAgain(op.key); await (await ready).sync.sendNow(); })}>Send again</button>
      ${isMark && html`<button onClick=${doing(async (outbox) => { await outbox.asNote(op.key); await (await ready).sync.sendNow(); })}>Keep it as a note</button>`}
      <button onClick=${() => setDropping(true)}>Drop it, with a reason</button>
    </div>`;
}

function Operation({ op, now, blocked }) {
  return html`<li class=${`card ${op.state === "refused" ? "refused" : ""}`}>
    <h2 class="small">${whatOf(op)}</h2>
    <p>${whereOf(op)}, ${ago(now - op.made_at)}. <b>${blocked ? "Waits for the one above" : stateOf(op)}.</b></p>
    ${op.state === "waiting" && !blocked && html`<p class="quiet">${lastOf(op)}</p>`}
    ${op.state === "refused" && html`<${Decide} op=${op} />`}
    ${op.state === "dropped" && html`<p class="quiet">Because: ${op.dropped_because}</p>`}
  </li>`;
}

const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;

function Keeping({ status }) {
  const [space, setSpace] = useState(null);
  useEffect(() => { navigator.storage?.estimate?.().then(setSpace, () => {}); }, []);
  const kept = status.persisted === true ? "The browser keeps this data until you delete it."
    : status.persisted === false ? "The browser may throw this data away when the phone is short of room. Send it soon. Adding the page to the home screen helps."
    : "The browser is asked to keep the data when the first thing is written down.";
  return html`<h2>On this phone</h2>
    <p>${status.keeps === false ? "This browser keeps nothing: writes go straight to the laptop." : kept}</p>
    ${space && html`<p class="quiet">Used: ${megabytes(space.usage ?? 0)} of ${megabytes(space.quota ?? 0)}.</p>`}`;
}

export function Unsent() {
  const status = useStatus();
  const [says, setSays] = useState("");
  const [busy, setBusy] = useState(false);
  const now = Date.now();
  const open = status.operations.filter((op) => op.state === "waiting" || op.state === "refused");
  const dropped = status.operations.filter((op) => op.state === "dropped");
  const first = new Set();
  const rows = open.map((op) => {
    const blocked = first.has(op.record);
    first.add(op.record);
    return html`<${Operation} key=${op.key} op=${op} now=${now} blocked=${blocked} />`;
  });
  const send = async () => {
    setBusy(true);
    const done = await (await ready).sync.sendNow().catch(() => ({ sent: 0 }));
    setBusy(false);
    setSays(done.reached === false ? "The laptop does not answer. It is tried again by itself." : done.sent ? `${done.sent} sent.` : "");
  };
  const save = async () => {
    const name = await exportQueue((await ready).outbox);
    setSays(`Written to ${name}. Keep the file until the laptop has everything.`);
  };
  return html`<main class="page" id="content">
    <h1>Not sent yet</h1>
    <p>${open.length ? "It is on this phone only, until the laptop says that it has it." : "Everything is on the laptop."}</p>
    ${says && html`<p class="note" role="status">${says}</p>`}
    <ul class="plain">${rows}</ul>
    ${open.length > 0 && html`<button class="full" onClick=${save}>Save the list to a file</button>`}
    ${dropped.length > 0 && html`<details><summary>Dropped (${dropped.length})</summary><ul class="plain">${dropped.map((op) => html`<${Operation} key=${op.key} op=${op} now=${now} />`)}</ul></details>`}
    <${Keeping} status=${status} />
    <${Bar} missing=${status.reach === false ? "The laptop is out of reach." : ""}><button class="main full" disabled=${busy || !open.length} onClick=${send}>Send now</button><//>
  </main>`;
}
