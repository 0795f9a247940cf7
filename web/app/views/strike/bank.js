import { useSignal } from "@preact/signals";
import { edit } from "../../state/rig.js";
import { useAnswer } from "../../state/shots.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { FailureBox } from "../../ui/lists.js";
import { worded } from "../../ui/term.js";
import { Entry } from "../shots/entries.js";
import { goTo } from "../shots/names.js";
import { named } from "./words.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Bank} Bank
 * @typedef {{lamps: {load: string, light: string}[], wanted: string}} Asked
 */

/** Several lamps, metered one at a time at full, dimmed to a level together. @param {{lamps: {id: string, name: string}[]}} props */
export function BankPart({ lamps }) {
  const light = useSignal(/** @type {Record<string, string>} */ ({}));
  const wanted = useSignal("");
  const asked = useSignal(/** @type {Asked | null} */ (null));
  const lit = lamps.filter(({ id }) => light.value[id]?.trim());
  const ask = () => (asked.value = { lamps: lit.map(({ id }) => ({ load: id, light: light.value[id] })), wanted: wanted.value });
  return html`
    <p>Meter each lamp alone at full power, at the subject. Lamps without a reading stay out.</p>
    <div class="fields">
      ${lamps.map(
        ({ id, name }) => html`<${Entry}
          key=${id} id="bank-${id}" label="${named({ load: id, name })}" unit="lx" value=${light.value[id] ?? ""}
          put=${(/** @type {string} */ text) => (light.value = { ...light.value, [id]: text })}
        />`,
      )}
      <${Entry} id="bank-wanted" label="Wanted, all together" unit="lx" value=${wanted.value} put=${(/** @type {string} */ text) => (wanted.value = text)} />
    </div>
    <button type="button" class="button main" disabled=${!lit.length || !wanted.value.trim()} onClick=${ask}>Work out the dims</button>
    ${asked.value && html`<${Answer} key=${JSON.stringify(asked.value)} asked=${asked.value} />`}
  `;
}

/** @param {{asked: Asked}} props */
function Answer({ asked }) {
  const { answer, trouble } = useAnswer("bank", asked);
  const bank = /** @type {Bank | null} */ (answer);
  if (trouble) return html`<${FailureBox} failure=${trouble} />`;
  if (!bank) return html`<p role="status">Working out the dims.</p>`;
  return html`
    <div class="plot-tables" tabindex="0" role="group" aria-label="Dims of the lamps">
      <table>
        <thead><tr><th scope="col">Lamp</th><th scope="col">Power</th><th scope="col">Light</th><th scope="col">Draws</th></tr></thead>
        <tbody>
          ${bank.lamps.map(
            (lamp) => html`<tr>
              <th scope="row">${named(lamp)}${lamp.left && html`<span class="note">, ${worded(lamp.left.quantity)} left to lose</span>`}</th>
              <td class="number">${worded(lamp.setting.power.quantity)}</td><td class="number">${worded(lamp.light.quantity)}</td>
              <td class="number">${lamp.current ? worded(lamp.current.quantity) : "not known"}</td>
            </tr>`,
          )}
        </tbody>
      </table>
    </div>
    <${Finding} finding=${bank.finding} go=${goTo} />
    ${bank.changes.length > 0 && !bank.finding.remedies.length && html`<button type="button" class="button" onClick=${() => edit(bank.changes, "Dim several lamps")}>Set these dims</button>`}
  `;
}
