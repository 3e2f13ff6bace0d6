// Find a tag: by the live camera, by a photo of it, or by the eight characters typed.
import { html, useEffect, useRef, useState } from "../../vendor/preact-htm/standalone.module.js";
import { get } from "../api.js";
import { cameraMissing, closeCamera, hasLamp, openCamera, setLamp } from "../camera.js";
import { compute } from "../offline/mirror.js";
import { Bar, Defer, Problem, TextField } from "../parts.js";
import { go } from "../router.js";

export function Find() {
  const [text, setText] = useState("");
  const [trouble, setTrouble] = useState(null);
  const [read, setRead] = useState("");
  const [says, setSays] = useState("");
  const [live, setLive] = useState(false);
  const noCamera = cameraMissing();
  const look = async (id) => {
    setTrouble(null);
    try {
      const record = await get(`/api/records/${encodeURIComponent(id)}`);
      go(`/tag/${record.id}`);
    } catch (problem) {
      setTrouble(problem);
    }
  };
  const found = async (payload) => {
    setLive(false);
    setRead(payload);
    setSays("Code read.");
    await look(payload);
  };
  const photo = async (event) => {
    const [file] = event.target.files;
    event.target.value = "";
    if (!file) return;
    setLive(false);
    setTrouble(null);
    setRead("");
    setSays("Reading the photo.");
    try {
      const { readTagFromFile } = await import("../scanner.js");
      const payload = await readTagFromFile(file, setSays);
      if (payload) await found(payload);
      else setSays("No code found. Fill the picture with the tag, in even light, and try again. Or type the id.");
    } catch (problem) {
      setSays("");
      setTrouble(problem);
    }
  };
  const point = () => {
    setTrouble(null);
    setRead("");
    setSays("");
    setLive(true);
  };
  return html`<main class="page" id="content">
    <h1>Find a tag</h1>
    <${Problem} trouble=${trouble} />
    ${live && html`<${Camera} onFound=${found} onClose=${() => setLive(false)} onTrouble=${(problem) => { setLive(false); setTrouble(problem); }} />`}
    ${!live && !noCamera && html`<p><button class="main full" onClick=${point}>Point the camera at the tag</button></p>`}
    <div class="field"><label class=${`button full ${noCamera ? "main" : ""}`} for="photo">Take or choose a photo of the tag</label>
      <input class="hide" id="photo" type="file" accept="image/*" capture="environment" onChange=${photo} />
      ${noCamera && html`<p class="quiet">${noCamera}</p>`}</div>
    ${says && html`<p class="note" role="status">${says}</p>`}
    ${read && html`<${OnTheTag} text=${read} />`}
    <form id="byid" onSubmit=${(event) => { event.preventDefault(); if (text.trim()) look(text.trim()); }}>
      <${TextField} id="tagid" name="Or type the id on the tag" help="Eight characters. There is no O, 0, I, 1 or L in it." value=${text} onChange=${setText}
        autocapitalize="characters" spellcheck=${false} maxlength="40" />
    </form>
    <${Defer} />
    <${Bar}><button class="main full" form="byid" disabled=${!text.trim()}>Find this id</button><//>
  </main>`;
}

const NAMES = { tube: "Tube", sleeve: "Sleeve", method: "Method", end: "Ends", mitre_deg: "Saw, from square", length: "Length", date: "Sealed" };

// A code has capitals only.
const plain = (name, text) => ({ mitre_deg: `${text}°`, end: text.toLowerCase(), method: text.toLowerCase(), length: text.toLowerCase() }[name] ?? text.replace(/(\d)X(?=[.\d])/g, "$1 × "));

/** What the code itself says: for an inspector whose phone never saw the record. */
function OnTheTag({ text }) {
  const [tag, setTag] = useState(null);
  useEffect(() => {
    setTag(null);
    compute((core) => { const tag = core.tagRead(text); return { ...tag, id_text: core.idText(tag.id) }; }).then(setTag, () => {});
  }, [text]);
  if (!tag) return html`<p class="note mono">${text}</p>`;
  const said = Object.keys(NAMES).filter((name) => tag.essentials[name]);
  return html`<section class="card" aria-labelledby="on-tag">
    <h2 id="on-tag">The code says</h2>
    ${tag.demo && html`<p class="demo">DEMO: invented</p>`}
    <p class="id mono">${tag.id_text}</p>
    <dl class="numbers">${said.map((name) => html`<dt key=${name}>${NAMES[name]}</dt><dd>${plain(name, tag.essentials[name])}</dd>`)}</dl>
    <p class="quiet">A code can be copied. The sealed record on the laptop counts, and the tube in front of you.</p>
  </section>`;
}

function Camera({ onFound, onClose, onTrouble }) {
  const video = useRef(null);
  const [stream, setStream] = useState(null);
  const [lamp, setLampState] = useState(false);
  const [other, setOther] = useState("");
  useEffect(() => {
    const stop = new AbortController();
    let opened = null;
    (async () => {
      try {
        const [{ watchForTag }, camera] = await Promise.all([import("../scanner.js"), openCamera()]);
        opened = camera;
        if (stop.signal.aborted) return closeCamera(opened);
        video.current.srcObject = opened;
        await video.current.play();
        setStream(opened);
        const payload = await watchForTag(video.current, stop.signal, setOther);
        if (payload) await onFound(payload);
      } catch (problem) {
        if (!stop.signal.aborted) onTrouble(problem);
      }
      return undefined;
    })();
    return () => {
      stop.abort();
      closeCamera(opened);
    };
  }, []);
  return html`<section class="camera" aria-label="Live camera">
    <video ref=${video} playsinline muted></video>
    <p class="note" role="status">${!stream ? "Starting the camera." : other ? "That code is not one of our tags. Still looking." : "Looking for the code. Fill the picture with the tag."}</p>
    ${other && html`<p class="quiet mono">${other.slice(0, 80)}</p>`}
    <div class="row">
      <button onClick=${onClose}>Close the camera</button>
      ${hasLamp(stream) && html`<button aria-pressed=${lamp} onClick=${async () => setLampState(await setLamp(stream, !lamp))}>Lamp ${lamp ? "off" : "on"}</button>`}
    </div>
  </section>`;
}
