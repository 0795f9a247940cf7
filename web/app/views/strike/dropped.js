// One lamp goes out while the others burn: when its light is back, and what to do with the others.
import { useSignal } from "@preact/signals";
import { useAnswer } from "../../state/shots.js";
import { html } from "../../ui/html.js";
import { Cautions, FailureBox } from "../../ui/lists.js";
import { sentence, tied } from "../../ui/term.js";
import { VerdictTag } from "../../ui/verdict.js";
import { Limits } from "./limits.js";
import { named } from "./words.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Dropped} Dropped
 * @typedef {{load: string, name: string}} Named
 */

/** @param {{load: string}} props */
export function DroppedPart({ load }) {
  const { answer, trouble, stale } = useAnswer("lamp_dropped", { load });
  const found = /** @type {Dropped | null} */ (answer);
  if (trouble) return html`<${FailureBox} failure=${trouble} />`;
  if (!found) return html`<p role="status">Working out what to do.</p>`;
  return html`
    <div class="dropped ${stale ? "behind" : ""}" role="group" aria-label="What to do while ${load} is out">
      <p><strong>After it went out:</strong></p>
      <dl class="dropped-times">
        <div><dt>Strike it</dt><dd class="figure">${found.strike_after.clock}</dd></div>
        <div><dt>Light is back</dt><dd class="figure">${found.light_after.clock}</dd></div>
        <div><dt>Colour is back</dt><dd class="figure">${found.colour_after.clock}</dd></div>
      </dl>
      <${Options} options=${found.options} />
      <${Cautions} cautions=${found.cautions} />
      <${Limits} findings=${found.findings} what="check" />
    </div>
  `;
}

/** The last clear one is the advice; those before it say why they are not. @param {{options: Dropped["options"]}} props */
const Options = ({ options }) => html`
  <ol class="dropped-options">
    ${options.map(
      (option) => html`<li>
        <${VerdictTag} verdict=${option.verdict} />
        <p><strong>${tied(sentence(option.text))}</strong> ${tied(sentence(option.says))}</p>
      </li>`,
    )}
  </ol>
`;

/** Asked ahead of time, for any lamp. @param {{lamps: Named[]}} props */
export function IfOneDrops({ lamps }) {
  const open = useSignal(false);
  const load = useSignal("");
  const known = lamps.some((lamp) => lamp.load === load.value) ? load.value : lamps[0].load;
  return html`
    <details class="strike-part" onToggle=${(/** @type {Event} */ event) => (open.value = /** @type {HTMLDetailsElement} */ (event.currentTarget).open)}>
      <summary>If one lamp drops out</summary>
      ${open.value &&
      html`
        <label class="act-select">Lamp
          <select onChange=${(/** @type {Event} */ event) => (load.value = /** @type {HTMLSelectElement} */ (event.currentTarget).value)}>
            ${lamps.map((lamp) => html`<option value=${lamp.load} selected=${lamp.load === known}>${named(lamp)}</option>`)}
          </select>
        </label>
        <${DroppedPart} key=${known} load=${known} />
      `}
    </details>
  `;
}
