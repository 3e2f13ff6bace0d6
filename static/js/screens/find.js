// Find a tag: by a photo of it, or by the eight characters typed.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { get } from "../api.js";
import { Bar, Defer, Problem, TextField } from "../parts.js";
import { go } from "../router.js";

export function Find() {
  const [text, setText] = useState("");
  const [trouble, setTrouble] = useState(null);
  const [read, setRead] = useState("");
  const [says, setSays] = useState("");
  const look = async (id) => {
    setTrouble(null);
    try {
      const record = await get(`/api/records/${encodeURIComponent(id)}`);
      go(`/tag/${record.id}`);
    } catch (problem) {
      setTrouble(problem);
    }
  };
  const photo = async (event) => {
    const [file] = event.target.files;
    event.target.value = "";
    if (!file) return;
    setTrouble(null);
    setRead("");
    setSays("Reading the photo.");
    try {
      const { readTagFromFile } = await import("../scanner.js");
      const payload = await readTagFromFile(file, setSays);
      if (!payload) {
        setSays("No code found. Fill the picture with the tag, in even light, and try again. Or type the id.");
        return;
      }
      setRead(payload);
      setSays("Code read.");
      await look(payload);
    } catch (problem) {
      setSays("");
      setTrouble(problem);
    }
  };
  return html`<main class="page" id="content">
    <h1>Find a tag</h1>
    <${Problem} trouble=${trouble} />
    <div class="field"><label class="button main full" for="photo">Take or choose a photo of the tag</label>
      <input class="hide" id="photo" type="file" accept="image/*" capture="environment" onChange=${photo} /></div>
    ${says && html`<p class="note" role="status">${says}</p>`}
    ${read && html`<p class="note mono">${read}</p>`}
    <form id="byid" onSubmit=${(event) => { event.preventDefault(); if (text.trim()) look(text.trim()); }}>
      <${TextField} id="tagid" name="Or type the id on the tag" help="Eight characters. There is no O, 0, I, 1 or L in it." value=${text} onChange=${setText}
        autocapitalize="characters" spellcheck=${false} maxlength="40" />
    </form>
    <${Defer} />
    <${Bar}><button class="main full" form="byid" disabled=${!text.trim()}>Find this id</button><//>
  </main>`;
}
