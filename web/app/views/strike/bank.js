import { useSignal } from "@preact/signals";
import { edit } from "../../state/rig.js";
import { useAnswer } from "../../state/shots.js";
import { SegmentedButtons } from "../../ui/choice.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { FailureBox } from "../../ui/lists.js";
import { tied, worded } from "../../ui/term.js";
import { Entry } from "../shots/entries.js";
import { goTo } from "../shots/names.js";
import { named } from "./words.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Bank} Bank
 * @typedef {{lamps: {load: string, light: string, wanted?: string}[], wanted?: string}} Asked
 * @typedef {Record<string, string>} Texts
 */

const HOW = [
  { value: "together", label: "One level together" },
  { value: "each", label: "A level for each" },
];

/** Several lamps, metered one at a time at full, dimmed to a level together or each to its own. @param {{lamps: {id: string, name: string}[]}} props */
export function BankPart({ lamps }) {
  const light = useSignal(/** @type {Texts} */ ({}));
  const own = useSignal(/** @type {Texts} */ ({}));
  const wanted = useSignal("");
  const how = useSignal("together");
  const asked = useSignal(/** @type {Asked | null} */ (null));
  const each = how.value === "each";
  const lit = lamps.filter(({ id }) => light.value[id]?.trim() && (!each || own.value[id]?.trim()));
  const ask = () => {
    const chosen = lit.map(({ id }) => ({ load: id, light: light.value[id], ...(each ? { wanted: own.value[id] } : {}) }));
    asked.value = each ? { lamps: chosen } : { lamps: chosen, wanted: wanted.value };
  };
  return html`
    <p>Meter each lamp alone at full power, at the subject. Lamps without a reading stay out.</p>
    <fieldset class="field"><legend>Dim them to</legend><${SegmentedButtons} name="bank-how" value=${how.value} options=${HOW} choose=${(/** @type {string} */ value) => (how.value = value)} /></fieldset>
    <div class="fields">
      ${lamps.map(
        (lamp) => html`<${Reading} key=${lamp.id} id="bank-${lamp.id}" label=${named({ load: lamp.id, name: lamp.name })} of=${lamp.id} texts=${light} />
          ${each && html`<${Reading} id="bank-own-${lamp.id}" label="${lamp.id} is to give" of=${lamp.id} texts=${own} />`}`,
      )}
      ${!each && html`<${Entry} id="bank-wanted" label="Wanted, all together" unit="lx" value=${wanted.value} put=${(/** @type {string} */ text) => (wanted.value = text)} />`}
    </div>
    <button type="button" class="button main" disabled=${!lit.length || (!each && !wanted.value.trim())} onClick=${ask}>Work out the dims</button>
    ${asked.value && html`<${Answer} key=${JSON.stringify(asked.value)} asked=${asked.value} />`}
  `;
}

/** @param {{id: string, label: string, of: string, texts: import("@preact/signals").Signal<Texts>}} props */
const Reading = ({ id, label, of, texts }) => html`
  <${Entry} id=${id} label=${label} unit="lx" value=${texts.value[of] ?? ""} put=${(/** @type {string} */ text) => (texts.value = { ...texts.value, [of]: text })} />
`;

/** @param {{asked: Asked}} props */
function Answer({ asked }) {
  const { answer, trouble } = useAnswer("bank", asked);
  const bank = /** @type {Bank | null} */ (answer);
  if (trouble) return html`<${FailureBox} failure=${trouble} />`;
  if (!bank) return html`<p role="status">Working out the dims.</p>`;
  return html`
    <ul class="bank" aria-label="Dims of the lamps">${bank.lamps.map((lamp) => html`<${Dimmed} key=${lamp.load} lamp=${lamp} />`)}</ul>
    <p>All together <strong class="number">${worded(bank.total.quantity)}</strong>${bank.supply && html`, the fullest line then carries <strong class="number">${worded(bank.supply.quantity)}</strong>`}.</p>
    <${Finding} finding=${bank.finding} go=${goTo} />
    ${bank.changes.length > 0 && !bank.finding.remedies.length && html`<button type="button" class="button" onClick=${() => edit(bank.changes, "Dim several lamps")}>Set these dims</button>`}
  `;
}

/** What goes on the desk first, then what it gives and draws. @param {{lamp: Bank["lamps"][number]}} props */
const Dimmed = ({ lamp: { setting, light, current, left, ...lamp } }) => html`
  <li>
    <p class="bank-name">${named(lamp)}</p>
    <p class="bank-set">
      <span class="figure">${setting.level ? worded(setting.level.quantity) : worded(setting.power.quantity)}</span>
      ${" "}${setting.level ? html`on the control, <span class="number">${worded(setting.power.quantity)}</span> of rated power` : "of rated power; its control level is not known"}
    </p>
    <p class="note">
      ${tied(`${worded(light.quantity)} of ${worded(lamp.full.quantity)}, ${worded(setting.stops.quantity)}; draws ${current ? worded(current.quantity) : "what is not known"}`)}
      ${left && html`<br /><strong>${worded(left.quantity)}</strong> left to lose by scrim, diffusion or distance`}
    </p>
  </li>
`;
