import { clock } from "../../state/keep.js";
import { isUp, statusWords } from "../../state/calculator.js";
import { behind } from "../../state/shown.js";
import { choose, record } from "../../state/rig.js";
import { html } from "../../ui/html.js";
import { Problems } from "../../ui/lists.js";
import { tied } from "../../ui/term.js";
import { Shape, WORDS } from "../../ui/verdict.js";
import { goToField } from "./open_link.js";

/**
 * @typedef {import("../../state/shapes.js").Chain} Chain
 * @typedef {import("../../state/shapes.js").Check} Check
 */

/** The whole chain in one glance: its worst verdict, a headline, one sentence. @param {{chain: Chain, shots: Check["shots"]}} props */
export function Summary({ chain, shots }) {
  return html`
    <div class="summary-head">
      <h1>${chain.name}</h1>
      <${ShotChoice} shots=${shots} shot=${chain.shot ?? ""} />
    </div>
    <${Earlier} />
    <section class="summary summary-${chain.verdict} ${behind.value ? "behind" : ""}" aria-label="Verdict">
      <${Shape} verdict=${chain.verdict} />
      <div role="status">
        <p class="headline">${worded(chain)}</p>
        <p>${tied(chain.sentence)}</p>
      </div>
    </section>
    <${Problems} problems=${chain.problems} go=${goToField} />
  `;
}

/** The headline, which always has the verdict's word in it. @param {Chain} chain */
function worded({ verdict, headline }) {
  const word = WORDS[verdict];
  return headline.toLowerCase().includes(word.toLowerCase()) ? tied(headline) : `${word}: ${tied(headline)}`;
}

/** Answers from before this start of the app say when they were made. */
function Earlier() {
  const at = record.value?.answers?.at;
  if (isUp.value || !at) return null;
  return html`<p class="earlier">Calculated ${clock(new Date(at))}. ${statusWords.value}.</p>`;
}

/** @param {{shots: Check["shots"], shot: string}} props */
function ShotChoice({ shots, shot }) {
  if (shots.length < 2) return null;
  return html`
    <label class="shot">
      Shot
      <select onChange=${(/** @type {Event} */ event) => choose({ shot: /** @type {HTMLSelectElement} */ (event.currentTarget).value })}>
        ${shots.map(({ id, name, text }) => html`<option value=${id} selected=${id === shot}>${name === text ? name : [name, text].filter(Boolean).join(", ")}</option>`)}
      </select>
    </label>
  `;
}
