// Entries that are not part of the rig: they belong to one question and are gone with it.
import { join } from "../../ui/field_text.js";
import { html } from "../../ui/html.js";

/** @typedef {import("../../state/shapes.js").LampLine} LampLine */

/** @param {Event} event */
export const valueOf = (event) => /** @type {HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement} */ (event.currentTarget).value;

/** A bare number takes the unit beside it. @param {string} typed @param {string} unit */
const withUnit = (typed, unit) => join(typed, unit);

/**
 * @param {{id: string, label: string, unit: string, value: string, hint?: string, text?: boolean, put: (text: string) => void}} props
 */
export function Entry({ id, label, unit, value, hint = "", text = false, put }) {
  const shown = unit && value.endsWith(` ${unit}`) ? value.slice(0, -unit.length - 1) : value;
  return html`
    <div class="field">
      <label for=${id}>${label}${unit && html`<span class="hidden"> in ${unit}</span>`}</label>
      ${hint && html`<p class="hint" id="${id}-hint">${hint}</p>`}
      <div class="entry">
        <input
          id=${id} type="text" inputmode=${text ? "text" : "decimal"} class=${text ? "wide" : ""} spellcheck=${false} autocomplete="off"
          value=${shown} aria-describedby=${hint ? `${id}-hint` : undefined} onInput=${(/** @type {Event} */ event) => put(withUnit(valueOf(event), unit))}
        />
        ${unit && html`<span class="suffix" aria-hidden="true">${unit}</span>`}
      </div>
    </div>
  `;
}

/** @param {{lamps: {id: string, name: string}[], load: string, choose: (id: string) => void, label: string}} props */
export const LampSelect = ({ lamps, load, choose, label }) => html`
  <div class="field">
    <label for="shots-lamp">${label}</label>
    <select id="shots-lamp" onChange=${(/** @type {Event} */ event) => choose(valueOf(event))}>
      ${lamps.map(({ id, name }) => html`<option value=${id} selected=${id === load}>${name}</option>`)}
    </select>
  </div>
`;
