// Pair this phone: the secret comes in the scanned address, or the code is typed.
import { html, useEffect, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ask, get } from "../api.js";
import { setWho, who } from "../kept.js";
import { Bar, Problem, TextField, useLoad } from "../parts.js";

// Read once and taken out of the address: it must not stay in the history.
let scanned = "";

function takeSecret() {
  if (location.hash.length > 1) {
    scanned = location.hash.slice(1);
    history.replaceState(null, "", location.pathname);
  }
  return scanned;
}

export function Pair() {
  const [secret, setSecret] = useState(takeSecret);
  const [code, setCode] = useState("");
  const [name, setName] = useState(who());
  const [trouble, setTrouble] = useState(null);
  const [paired, setPaired] = useState(null);
  const [health] = useLoad(() => get("/api/health"), []);
  // A second code scanned into the open page changes only the end of its address.
  useEffect(() => {
    const again = () => { setSecret(takeSecret()); setPaired(null); setTrouble(null); };
    addEventListener("hashchange", again);
    return () => removeEventListener("hashchange", again);
  }, []);
  const ready = name.trim() && (secret || code.trim());
  const pair = async (event) => {
    event.preventDefault();
    if (!ready) return;
    setTrouble(null);
    try {
      const answer = await ask("/api/pair", { ...(secret ? { secret } : { code: code.trim() }), name: name.trim() });
      scanned = "";
      setWho(name);
      setPaired(answer);
    } catch (problem) {
      scanned = "";
      setSecret("");
      setTrouble(problem);
    }
  };
  if (paired) return html`<main class="page" id="content">
    <h1>This phone is paired</h1>
    <div class="check is-met"><p><b>${paired.device.name}</b> may ${paired.may}.</p></div>
    <${Bar}><a class="button main full" href="/">Go to the start</a><//>
  </main>`;
  return html`<main class="page" id="content">
    <h1>Pair this phone</h1>
    <${Problem} trouble=${trouble} />
    ${health.data?.role && html`<p class="note">${health.data.device ? `This phone is paired already, as ${health.data.device.name}.` : "This is the laptop itself. It needs no pairing."}</p>`}
    ${secret && html`<p class="note">The code was read. Give this phone a name, then pair it.</p>`}
    <form id="pair" onSubmit=${pair}>
      ${!secret && html`<${TextField} id="code" name="Code on the laptop" help="Six characters. On the laptop: Devices, pair a phone." value=${code} onChange=${setCode}
        autocapitalize="characters" spellcheck=${false} maxlength="20" />`}
      <${TextField} id="phone" name="Name of this phone" help="Your own name will do. It shows on the laptop's list." value=${name} onChange=${setName} maxlength="80" />
    </form>
    <${Bar} missing=${ready ? "" : name.trim() ? "The code is missing." : "The name is missing."}><button class="main full" form="pair" disabled=${!ready}>Pair this phone</button><//>
  </main>`;
}
