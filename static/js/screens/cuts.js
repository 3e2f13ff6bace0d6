// Cut list: pieces over the bars on the rack, fewest bars, kerf and remnants counted.
import { html, useState } from "../../vendor/preact-htm/standalone.module.js";
import { ask, get } from "../api.js";
import { LengthField } from "../lengthfield.js";
import { Bar, Problem, SelectField, TextField, useLoad } from "../parts.js";

const sizeOf = (item) => `${item.od.typed} × ${item.wall.typed} ${item.material}`;

export function Cuts() {
  const [stock] = useLoad(() => get("/api/stock"), []);
  const [size, setSize] = useState("");
  const [pieces, setPieces] = useState([{ key: "Sleeve", length: "", count: "1" }]);
  const [shop, setShop] = useState({ kerf: "1/16 in", min_remnant: "6 in", buy: "" });
  const [state, setState] = useState({});
  const items = (stock.data?.items || []).filter((item) => item.on_hand.in > 0);
  const sizes = [...new Set(items.map(sizeOf))];
  const bars = items.filter((item) => sizeOf(item) === size).map((item) => ({ key: `bar ${item.id}`, length: `${item.on_hand.in} in`, count: 1, is_remnant: true }));
  if (shop.buy.trim()) bars.push({ key: "new bar", length: shop.buy });
  const set = (at, part) => setPieces((old) => old.map((one, i) => (i === at ? { ...one, ...part } : one)));
  const ready = bars.length && pieces.every((piece) => piece.key.trim() && piece.length.trim() && Number(piece.count) > 0) && shop.kerf.trim();
  const plan = async () => {
    setState({ busy: true });
    try {
      const body = { kerf: shop.kerf, min_remnant: shop.min_remnant || "0 in", bars, pieces: pieces.map((piece) => ({ ...piece, count: Number(piece.count) })) };
      setState({ plan: await ask("/api/cuts", body) });
    } catch (trouble) {
      setState({ trouble });
    }
  };
  return html`<main class="page" id="content">
    <h1>Cut list</h1>
    <${Problem} trouble=${stock.trouble || state.trouble} />
    ${state.plan && html`<section class="card pick">
      <h2>${state.plan.proved ? "✓ Proved: no plan needs fewer new bars" : "Not proved"}</h2>
      <p>${state.plan.proof}</p>
      ${state.plan.warnings.map((text) => html`<p class="caution" key=${text}>${text}</p>`)}
      <ol class="plain cutlines">${state.plan.text.map((line) => html`<li key=${line}>${line}</li>`)}</ol>
      <details><summary>Assumptions</summary><ul>${state.plan.assumptions.map((text) => html`<li key=${text}>${text}</li>`)}</ul></details>
    </section>`}
    <${SelectField} id="size" name="Tube on the rack" value=${size} options=${sizes.map((key) => ({ key, name: key }))} onChange=${setSize} />
    ${size && html`<p class="quiet">${bars.length} to cut from: ${bars.map((bar) => bar.length).join(", ")}</p>`}
    <${LengthField} id="buy" name="New bars to buy, length of each" help="Leave empty to use only the rack." value=${shop.buy} onChange=${(buy) => setShop({ ...shop, buy })} />
    <h2>Pieces</h2>
    ${pieces.map((piece, at) => html`<div class="card" key=${at}>
      <${TextField} id=${`name${at}`} name="Name" value=${piece.key} onChange=${(key) => set(at, { key })} maxlength="40" />
      <${LengthField} id=${`piece${at}`} name="Length" value=${piece.length} onChange=${(length) => set(at, { length })} />
      <${TextField} id=${`count${at}`} name="How many" inputmode="numeric" value=${piece.count} onChange=${(count) => set(at, { count })} />
    </div>`)}
    <button class="full" onClick=${() => setPieces([...pieces, { key: `Piece ${pieces.length + 1}`, length: "", count: "1" }])}>＋ Another piece</button>
    <h2>Saw</h2>
    <${LengthField} id="kerf" name="Saw kerf" value=${shop.kerf} allowZero onChange=${(kerf) => setShop({ ...shop, kerf })} />
    <${LengthField} id="keep" name="Shortest offcut worth keeping" value=${shop.min_remnant} allowZero onChange=${(min_remnant) => setShop({ ...shop, min_remnant })} />
    <${Bar} missing=${ready ? "" : "Still missing: tube and the length of each piece."}><button class="main full" disabled=${!ready || state.busy} onClick=${plan}>Plan the cuts</button><//>
  </main>`;
}
