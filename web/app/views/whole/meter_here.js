import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { check } from "../../state/rig.js";
import { meterHere, meterRefused } from "../../state/whole.js";
import { Assumptions, Working } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { Cautions } from "../../ui/lists.js";
import { goToField } from "../rig/open_link.js";

/** @typedef {import("../../state/whole.js").MeterHere} Answer */

/** What a meter shows at a place: worked out when it is opened, and again with every answer for the rig. @param {{place: string}} props */
export function MeterHere({ place }) {
  const open = useSignal(false);
  const rig = JSON.stringify(check.value?.rig); // the same rig is answered twice, with its advice the second time
  useEffect(() => {
    if (!open.value) return void (meterHere.answer.value = null);
    meterRefused.value = null;
    meterHere.ask({ place });
  }, [place, open.value, rig]);
  const found = meterHere.answer.value;
  const refused = meterRefused.value;
  return html`
    <details class="meter-here" onToggle=${(/** @type {Event} */ e) => (open.value = /** @type {HTMLDetailsElement} */ (e.currentTarget).open)}>
      <summary>What a meter shows here</summary>
      ${open.value && (found && !refused ? html`<${Figures} found=${found} />` : html`<p class="waiting" role="status">${refused ? `${refused.message}. ${refused.hint}.` : "Working it out."}</p>`)}
    </details>
  `;
}

/** The unit stands with the name where all figures share it, else with each. @param {{row: Answer["rows"][number]}} props */
function Row({ row: { name, cells } }) {
  const units = new Set(cells.flatMap((term) => (term ? [term.quantity.shown_unit] : [])));
  const [one] = units.size === 1 ? units : [""];
  return html`
    <tr role="row">
      <th scope="row" role="rowheader">${name}${one && `, ${one}`}</th>
      ${cells.map((term) => html`<td role="cell">${term ? html`<span class="number">${term.quantity.shown}</span>${one ? "" : ` ${term.quantity.shown_unit}`}` : "–"}</td>`)}
    </tr>
  `;
}

/** @param {{found: Answer}} props */
const Figures = ({ found }) => html`
  <table class="meter-figures" role="table" style=${{ "--channels": found.channels.length }}>
    <caption class="hidden">What a meter shows at ${found.title}</caption>
    <thead role="rowgroup">
      <tr role="row"><th scope="col" role="columnheader" class="hidden">Figure</th>${found.channels.map((name) => html`<th scope="col" role="columnheader">${name.replace("-", "–")}</th>`)}</tr>
    </thead>
    <tbody role="rowgroup">
      ${found.rows.map((row) => html`<${Row} row=${row} />`)}
    </tbody>
  </table>
  <${Cautions} cautions=${found.cautions} />
  <${Assumptions} assumptions=${found.assumptions} go=${goToField} />
  <${Working} finding=${found} open=${false} />
`;
