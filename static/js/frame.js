// What stands above every screen: whether all is sent, and what a person has to know first.
import { html, useEffect, useState } from "../vendor/preact-htm/standalone.module.js";
import { ready } from "./offline/phone.js";
import { isBusy, onStatus, status } from "./offline/status.js";
import { ago, whatOf, whereOf } from "./offline/words.js";
import { takeUpdate } from "./update.js";

const LONG_MS = 2 * 3600 * 1000;

export function useStatus() {
  const [, redraw] = useState(0);
  useEffect(() => {
    const draw = () => redraw((n) => n + 1);
    const stop = onStatus(draw);
    const minute = setInterval(draw, 60_000);
    return () => { stop(); clearInterval(minute); };
  }, []);
  return status();
}

const openOf = (operations) => operations.filter((op) => op.state === "waiting" || op.state === "refused");

export function chipText({ reach, operations }) {
  const open = openOf(operations);
  const parts = [];
  if (reach === false) parts.push("Laptop out of reach");
  if (open.length) parts.push(`${open.length} not sent`);
  if (open.some((op) => op.state === "refused")) parts.push("decide");
  return parts.join(", ") || (reach === null ? "Asking the laptop" : "All sent");
}

export function Chip() {
  const now = useStatus();
  const open = openOf(now.operations);
  const kind = open.some((op) => op.state === "refused") ? "is-missed" : now.reach === false || open.length ? "is-ask" : "is-met";
  return html`<a class=${`chip ${kind}`} href="/unsent"><span role="status">${chipText(now)}</span></a>`;
}

const dismiss = async (key) => (await ready).outbox.dismiss(key);

function Notice({ op }) {
  const marked = op.notice.kind === "already-marked";
  return html`<div class="problem banner" role="alert">
    <h2>${marked ? "Another phone marked this step as well" : "There is not that much on the bar"}</h2>
    <p>${whatOf(op)}. ${whereOf(op)}</p>
    <p>${marked ? "The first mark stands. Yours is kept beside it as a note." : `${op.notice.problem.title} Given: ${op.notice.problem.given}. Allowed: ${op.notice.problem.allowed} ${op.notice.problem.next}`}</p>
    <div class="row"><button onClick=${() => dismiss(op.key)}>I have seen it</button>${!marked && html`<a class="button" href="/unsent">Decide</a>`}</div>
  </div>`;
}

const shown = (value) => (value !== null && typeof value === "object" ? JSON.stringify(value).slice(0, 160) : value === undefined ? "nothing" : String(value));

function Mismatch({ entry }) {
  const seen = async () => (await ready).checks.dismiss(entry);
  return html`<div class="problem banner" role="alert">
    <h2>The laptop computes something else</h2>
    <p>This phone computed it ${ago(Date.now() - entry.at)}, without the laptop. The laptop's value counts. Check what was built on the other one.</p>
    <ul>${entry.found.slice(0, 6).map((one) => html`<li key=${one.where}><b>${one.where.replaceAll("_", " ")}</b>: this phone ${shown(one.phone)}; the laptop ${shown(one.laptop)}</li>`)}</ul>
    <button onClick=${seen}>I have seen it</button>
  </div>`;
}

export function Banners() {
  const now = useStatus();
  const open = openOf(now.operations);
  const oldest = Math.min(...open.map((op) => op.made_at));
  const kept = [...now.keptFrom.values()];
  return html`<section class="banners" aria-label="Messages">
    ${now.operations.filter((op) => op.notice).map((op) => html`<${Notice} key=${op.key} op=${op} />`)}
    ${now.mismatches.map((entry) => html`<${Mismatch} key=${entry.at + entry.path} entry=${entry} />`)}
    ${now.stopped && html`<p class="trouble" role="alert">The laptop takes nothing from this phone. ${now.stopped.title} ${now.stopped.next}</p>`}
    ${now.keeps === false && html`<p class="trouble" role="alert">This browser keeps nothing on this phone (a private window, or no room). What you do goes straight to the laptop, or is not saved.</p>`}
    ${Date.now() - oldest > LONG_MS && html`<p class="trouble" role="alert">Something is not sent since ${ago(Date.now() - oldest)}. It is only on this phone. Bring it into the laptop's Wi-Fi.</p>`}
    ${now.update && html`<div class="note banner"><b>${now.update === "ready" ? "New version ready" : "A new version runs in another tab"}</b>
      ${isBusy() ? html`<p>Finish this step first.</p>` : html`<button onClick=${takeUpdate}>Load it now</button>`}</div>`}
    ${now.said && html`<p class="note banner" role="status">${now.said}</p>`}
    ${kept.length > 0 && html`<p class="note banner">Shown from this phone, kept ${ago(Date.now() - Math.min(...kept))}.</p>`}
    ${now.computedHere.size > 0 && html`<p class="caution banner">Computed on this phone. Provisional until the laptop has checked it.</p>`}
  </section>`;
}
