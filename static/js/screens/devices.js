// Devices, on the laptop: let a phone in, see who is in, take a pairing back.
import { html, useEffect, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ask, get, post } from "../api.js";
import { Choices, Drawing, Problem, TextField, useLoad, when } from "../parts.js";

// Eight pairs a line, as on the trust page: two long lines are compared badly.
const lines = (text) => text.match(/.{1,24}/g) || [];
const ROLE_NAMES = { plan: "Plan", weld: "Weld", view: "View" };

export function Devices() {
  const [state, setState] = useLoad(() => get("/api/devices"), []);
  const [making, setMaking] = useState(false);
  const reload = async () => setState(await get("/api/devices"));
  if (state.trouble) return html`<main class="page" id="content"><h1>Devices</h1><${Problem} trouble=${state.trouble} /><a class="button main full" href="/">Go to the start</a></main>`;
  if (!state.data) return html`<main class="page" id="content"><p>Loading the devices.</p></main>`;
  const { devices, origin, addresses, roles, fingerprint } = state.data;
  return html`<main class="page" id="content">
    <h1>Devices</h1>
    ${origin ? html`<p>Phones use <b class="mono seal">${origin}</b></p>
      <p>A new phone starts at <b class="mono seal">${addresses[0] ? `${addresses[0]}/trust` : `${origin}/trust`}</b></p>
      <details><summary>Fingerprint to compare</summary><p class="mono seal">SHA-256${lines(fingerprint).map((line) => html`<br />${line}`)}</p></details>`
      : html`<p class="note">This server is for this laptop only. For phones, start it with <code>pitsplice serve --lan</code>.</p>`}
    ${making ? html`<${NewPairing} roles=${roles} known=${devices.map((d) => d.id)} onPaired=${reload} onClose=${() => setMaking(false)} />`
      : origin && html`<button class="main full" onClick=${() => setMaking(true)}>Pair a phone</button>`}
    <h2>Paired</h2>
    ${!devices.length && html`<p>None yet.</p>`}
    ${devices.map((device) => html`<${Device} key=${device.id} device=${device} roles=${roles} onDone=${reload} />`)}
  </main>`;
}

function NewPairing({ roles, known, onPaired, onClose }) {
  const [name, setName] = useState("");
  const [role, setRole] = useState("");
  const [made, setMade] = useState(null);
  const [trouble, setTrouble] = useState(null);
  const [came, setCame] = useState(null);
  const [had] = useState(known);
  const make = async (event) => {
    event.preventDefault();
    setTrouble(null);
    try {
      setMade(await ask("/api/pairings", { role, name: name.trim() }));
    } catch (problem) {
      setTrouble(problem);
    }
  };
  useEffect(() => {
    if (!made || came) return undefined;
    const timer = setInterval(async () => {
      const list = await get("/api/devices").catch(() => null);
      const fresh = list?.devices.find((device) => !had.includes(device.id));
      if (fresh) {
        setCame(fresh);
        await onPaired().catch(() => {});
      }
    }, 2000);
    return () => clearInterval(timer);
  }, [made, came]);
  if (came) return html`<section class="card pick"><h2>Paired</h2><p role="status"><b>${came.name}</b>, role ${ROLE_NAMES[came.role]}.</p><button class="main full" onClick=${onClose}>Done</button></section>`;
  if (made) return html`<section class="card pick">
    <h2>Scan this with the phone</h2>
    <div class="pairing-qr"><${Drawing} svg=${made.qr} /></div>
    <p class="center">Or open <b class="mono seal">${made.url.split("#")[0]}</b> on the phone and type</p>
    <p class="id mono" data-testid="code">${made.code}</p>
    <p class="center">For one phone, role ${ROLE_NAMES[made.role]}, for ten minutes.</p>
    <p class="caution">Whoever scans it first gets in.<small>Do not leave it on the screen.</small></p>
    <button class="full" onClick=${onClose}>Close</button>
  </section>`;
  return html`<form class="card pick" onSubmit=${make}>
    <h2>Pair a phone</h2>
    <${Problem} trouble=${trouble} />
    <${TextField} id="for" name="Whose phone" value=${name} onChange=${setName} maxlength="80" />
    <${Choices} name="role" legend="It may" wide value=${role} onChange=${setRole} options=${roles.map((one) => ({ key: one.key, name: ROLE_NAMES[one.key], text: one.may }))} />
    <div class="row"><button class="main" disabled=${!name.trim() || !role}>Show the code</button><button type="button" onClick=${onClose}>Not now</button></div>
  </form>`;
}

function Device({ device, roles, onDone }) {
  const [sure, setSure] = useState(false);
  const [trouble, setTrouble] = useState(null);
  const revoke = async () => {
    try {
      await post(`/api/devices/${device.id}/revoke`, {});
      await onDone();
    } catch (problem) {
      setTrouble(problem);
    }
  };
  return html`<section class="card">
    <div class="row spread"><h3>${device.name}</h3><b>${ROLE_NAMES[device.role]}</b></div>
    <p>May ${roles.find((one) => one.key === device.role)?.may}.</p>
    <p class="quiet">Paired ${when(device.paired_at)}. Last seen ${when(device.last_seen_at)}.</p>
    <${Problem} trouble=${trouble} />
    ${device.revoked_at ? html`<p><b>Taken back ${when(device.revoked_at)}.</b> It has no access.</p>`
      : sure ? html`<div class="row"><button onClick=${() => setSure(false)}>Keep it</button><button class="main" onClick=${revoke}>Yes, take it back</button></div>`
        : html`<button onClick=${() => setSure(true)}>Take the pairing back</button>`}
  </section>`;
}
