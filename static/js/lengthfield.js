// A length as a person types it, with fraction keys (phone number pads have no slash) and a
// live echo of how the laptop read it.
import { html, useEffect, useRef, useState } from "../vendor/preact-htm/standalone.module.js";
import { get } from "./api.js";
import { Field } from "./parts.js";

const FRACTIONS = ["1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16", "1/32"];
const UNITS = { length: ["in", "mm", "ft"], diameter: ["in", "mm"], wall: ["in", "mm", "thou", "ga"] };

const known = new Map();

export async function readLength(text, role, allowZero) {
  const path = `/api/length?${new URLSearchParams({ text, role, allow_zero: allowZero ? "1" : "0" })}`;
  if (!known.has(path)) {
    try {
      known.set(path, { ok: (await get(path)).echo });
    } catch (trouble) {
      if (trouble.status < 400 || trouble.status >= 500) return { off: trouble.body.title };
      known.set(path, { bad: trouble.body });
    }
  }
  return known.get(path);
}

export function withFraction(text, fraction) {
  const plain = text.replace(/\s*(in|mm|ft|thou|ga)$/, "");
  const whole = plain.match(/^(\d+)(?:[- ]+\d*\/?\d*)?$/);
  if (/^\d+\/\d*$/.test(plain) || !whole) return `${fraction} in`;
  return `${whole[1]}-${fraction} in`;
}

export function withUnit(text, unit) {
  const plain = text.trim().replace(/\s*(in|mm|ft|thou|ga|")$/, "");
  return plain ? `${plain} ${unit}` : text;
}

export function LengthField({ id, name, help, value = "", role = "length", allowZero = false, onChange, onRead }) {
  const [open, setOpen] = useState(false);
  const [heard, setHeard] = useState({});
  const input = useRef(null);
  useEffect(() => {
    if (!value.trim()) {
      setHeard({});
      onRead?.(null);
      return undefined;
    }
    let current = true;
    const timer = setTimeout(async () => {
      const answer = await readLength(value.trim(), role, allowZero);
      if (!current) return;
      setHeard(answer);
      onRead?.(answer);
    }, 120);
    return () => { current = false; clearTimeout(timer); };
  }, [value]);
  useEffect(() => {
    if (!open) return undefined;
    // The keys close when another place is touched, not when a key takes the focus.
    const close = (event) => input.current && !input.current.closest(".field").contains(event.target) && setOpen(false);
    document.addEventListener("focusin", close);
    return () => document.removeEventListener("focusin", close);
  }, [open]);
  const press = (change) => () => onChange(change(value));
  // The line is always there, so that the fields below do not jump under a finger.
  const says = heard.ok || (heard.bad && `${heard.bad.title} ${heard.bad.next}`) || heard.off || "";
  return html`<${Field} id=${id} name=${name} help=${help} says=${says} bad=${Boolean(heard.bad)}>
    <input id=${id} ref=${input} type="text" inputmode="decimal" autocomplete="off" autocapitalize="off" spellcheck=${false} value=${value}
      aria-describedby=${says ? `${id}-says` : undefined} aria-invalid=${heard.bad ? "true" : undefined}
      onFocus=${() => setOpen(true)} onInput=${(event) => onChange(event.target.value)} />
    ${open && html`<div class="keys" role="group" aria-label=${`Keys for ${name}`}>
      ${(role === "wall" ? [] : FRACTIONS).map((f) => html`<button type="button" key=${f} onClick=${press((t) => withFraction(t, f))}>${f}</button>`)}
      ${UNITS[role].map((u) => html`<button type="button" class="unit" key=${u} onClick=${press((t) => withUnit(t, u))}>${u}</button>`)}
      <button type="button" class="unit" aria-label="Delete" onClick=${press((t) => t.slice(0, -1))}>⌫</button>
      <button type="button" class="unit" aria-label="Close the keys" onClick=${() => setOpen(false)}>Done</button>
    </div>`}
  <//>`;
}
