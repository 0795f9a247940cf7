import { useSignal } from "@preact/signals";
import { whatIf, whole } from "../../state/whole.js";
import { html } from "../../ui/html.js";
import { Cautions } from "../../ui/lists.js";
import { sentence } from "../../ui/term.js";
import { Shape, VerdictTag, WORDS } from "../../ui/verdict.js";
import { Working } from "../../ui/finding.js";

/** @typedef {import("../../state/whole.js").WhatIf} Answer */

const FAULTS = { "open neutral": "The neutral is broken", "poor neutral": "The neutral has a bad contact", "lost line": "A line is lost", swapped: "Line and neutral changed over" };

/** What a fault of the rig would do to every lamp. */
export function WhatIfPart() {
  const kind = useSignal("open neutral");
  const place = useSignal("");
  const line = useSignal("L1");
  const ohms = useSignal("1 Ω");
  const places = (whole.value?.tree ?? []).filter((node) => node.kind === "run" || (node.kind === "supply" && kind.value !== "swapped"));
  const at = places.some((p) => p.id === place.value) ? place.value : (places[0]?.id ?? "");
  const lines = (whole.value?.lines ?? []).map((l) => l.conductor).filter((c) => c !== "N");
  const needsLine = kind.value === "lost line" || kind.value === "swapped";
  return html`
    <section aria-label="What if">
      <h2>What if a wire fails?</h2>
      <div class="what-if">
        <${Choice} label="Fault" value=${kind.value} options=${Object.entries(FAULTS)} choose=${(/** @type {string} */ v) => (kind.value = v)} />
        <${Choice} label="Where" value=${at} options=${places.map((p) => [p.id, p.title])} choose=${(/** @type {string} */ v) => (place.value = v)} />
        ${needsLine && html`<${Choice} label="Line" value=${line.value} options=${lines.map((l) => [l, l])} choose=${(/** @type {string} */ v) => (line.value = v)} />`}
        ${kind.value === "poor neutral" &&
        html`<label class="act-select">Contact<input type="text" value=${ohms.value} onInput=${(/** @type {Event} */ e) => (ohms.value = /** @type {HTMLInputElement} */ (e.currentTarget).value)} /></label>`}
        <button type="button" class="button wide-button" onClick=${() => whatIf.ask({ fault: { kind: kind.value, place: at, line: line.value, ohms: ohms.value } })}>Work it out</button>
      </div>
      <div role="status">${whatIf.answer.value && html`<${Outcome} answer=${whatIf.answer.value} />`}</div>
    </section>
  `;
}

/** @param {{label: string, value: string, options: string[][], choose: (value: string) => void}} props */
const Choice = ({ label, value, options, choose }) => html`
  <label class="act-select">${label}
    <select onChange=${(/** @type {Event} */ e) => choose(/** @type {HTMLSelectElement} */ (e.currentTarget).value)}>
      ${options.map(([id, words]) => html`<option value=${id} selected=${id === value}>${words}</option>`)}
    </select>
  </label>
`;

/** @param {{answer: Answer}} props */
const Outcome = ({ answer }) => html`
  <p class="fault-answer"><${VerdictTag} verdict=${answer.verdict} /> <strong>${sentence(answer.says)}</strong></p>
  <${Cautions} cautions=${answer.cautions} />
  <ul class="hits">
    ${answer.hits.map(
      (hit) => html`<li>
        <${Shape} verdict=${hit.verdict} /><span class="hidden">${WORDS[hit.verdict]}: </span>
        <span class="tree-words"><span class="tree-title">${hit.name}</span><span class="tree-detail">${sentence(hit.says)}</span></span>
        <span class="number">${hit.before.quantity.shown} → ${hit.after ? `${hit.after.quantity.shown} V` : "none"}</span>
      </li>`,
    )}
  </ul>
  <${Working} finding=${answer} open=${false} />
`;
