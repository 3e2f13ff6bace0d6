// The strength comparison: ratios on paper, what governs, and every assumption behind them.
import { html } from "../../vendor/preact-htm/standalone.module.js";

const LOADS = { axial: "Pull and push", bending: "Bending", torsion: "Twist" };

export function Strength({ strength }) {
  if (!strength) return null;
  const share = (ratio) => (ratio === null ? "unknown" : `${(Math.floor(ratio * 100) / 100).toFixed(2)} ×`);
  return html`<details><summary>Strength on paper: splice against tube</summary>
    <p><b>${strength.not_a_verdict}</b></p>
    <p class="quiet">Filler ${strength.filler}, leg ${strength.fillet.leg_in.toFixed(3)} in, ${strength.rosettes.per_end} rosettes an end. ${strength.rosettes.reason}</p>
    <dl class="numbers">${Object.entries(LOADS).map(([load, name]) => ["asd", "lrfd"].map((code) => {
      const one = strength.loads[load][code];
      const part = one.governing ? one.parts[one.governing].name : "unknown";
      return html`<dt key=${load + code}>${name}, ${code.toUpperCase()} <span class="quiet">Lowest: ${part}</span></dt>
        <dd>${share(one.ratio)}<br /><span class="quiet">${share(one.ratio_near_weld)} of tube beside a weld</span></dd>`;
    }))}</dl>
    <h3>Section of the sleeve against the tube</h3>
    <dl class="numbers">${Object.entries(strength.section.ratios).map(([key, one]) => html`<dt key=${key}>${key.replaceAll("_", " ")}</dt><dd>${one.text} ×</dd>`)}</dl>
    <h3>Read this with it</h3>
    <ul>${strength.warnings.map((text) => html`<li key=${text}>${text}</li>`)}</ul>
    <h3>Assumed</h3>
    <ul>${strength.assumptions.map((text) => html`<li key=${text}>${text}</li>`)}</ul>
    <ul class="quiet">${strength.sources.map((text) => html`<li key=${text}>${text}</li>`)}</ul>
  </details>`;
}
