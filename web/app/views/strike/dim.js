import { useSignal } from "@preact/signals";
import { edit } from "../../state/rig.js";
import { settings } from "../../state/settings.js";
import { useAnswer } from "../../state/shots.js";
import { SegmentedButtons } from "../../ui/choice.js";
import { Fields } from "../../ui/field.js";
import { Working } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { Cautions, FailureBox } from "../../ui/lists.js";
import { Origin, tied, worded } from "../../ui/term.js";
import { Entry } from "../shots/entries.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Dim} Dim
 * @typedef {import("../../state/strike_shapes.js").Setting} Setting
 */

/** From what is known to all the rest. @type {Record<string, {label: string, entry: string, unit: string, first: string}>} */
const FROM = {
  stops: { label: "Stops", entry: "Less light by", unit: "stops", first: "1" },
  level: { label: "Control", entry: "The control is at", unit: "%", first: "50 %" },
  power: { label: "Power", entry: "Of rated power", unit: "%", first: "70 %" },
};
const WAYS = Object.entries(FROM).map(([value, { label }]) => ({ value, label }));

/** @param {{load: string}} props */
export function DimPart({ load }) {
  const from = useSignal("stops");
  const given = useSignal(FROM.stops.first);
  const distance = useSignal("");
  const { entry, unit } = FROM[from.value];
  const asked = { load, ...(given.value.trim() ? { [from.value]: given.value } : {}), ...(distance.value.trim() ? { distance: distance.value } : {}) };
  const { answer, trouble, stale } = useAnswer("dim", asked);
  const dim = /** @type {Dim | null} */ (answer);
  return html`
    <fieldset class="field"><legend>From</legend><${SegmentedButtons} name="dim-from" value=${from.value} options=${WAYS}
      choose=${(/** @type {string} */ value) => ([from.value, given.value] = [value, FROM[value].first])} /></fieldset>
    <div class="fields">
      <${Entry} id="dim-given" label=${entry} unit=${unit} value=${given.value} put=${(/** @type {string} */ text) => (given.value = text.replace(/ ?stops$/, ""))} />
      ${from.value === "stops" &&
      html`<${Entry} id="dim-distance" label="Distance to the subject" unit=${settings.value.length} hint="Only where the dim alone is not enough" value=${distance.value} put=${(/** @type {string} */ text) => (distance.value = text)} />`}
    </div>
    ${trouble && html`<${FailureBox} failure=${trouble} />`}
    ${dim && html`<div class=${stale ? "dim-answer behind" : "dim-answer"}><${Answer} load=${load} dim=${dim} /></div>`}
  `;
}

/** @param {{load: string, dim: Dim}} props */
const Answer = ({ load, dim }) => html`
  <div role="status">
    ${dim.setting && html`<${SettingLine} setting=${dim.setting} />`}
    ${dim.below && html`<${Below} below=${dim.below} />`}
  </div>
  ${dim.changes.length > 0 && html`<button type="button" class="button" onClick=${() => edit(dim.changes, `Dim ${load}`)}>Set this dim</button>`}
  <${Cautions} cautions=${dim.cautions} />
  <${Working} finding=${{ title: `Dim ${load}`, steps: dim.steps, evidence: null }} open=${false} />
  <details><summary>All settings</summary><div class="plot-tables" tabindex="0" role="group" aria-label="All settings"><${Table} table=${dim.table} /></div></details>
  <${Fields} fields=${dim.fields} label="Control of ${load}" />
`;

/** A colour that leans on an estimate looks like one. @param {{setting: Setting}} props */
const SettingLine = ({ setting }) => html`
  <p class="dim-setting"><span class="figure">${worded(setting.power.quantity)}</span> of rated power${setting.level && html`, control at <strong class="number">${worded(setting.level.quantity)}</strong>`}</p>
  <p>Light <strong class="number">${worded(setting.light.quantity)}</strong>, ${tied(worded(setting.stops.quantity))}. Colour <${Origin} origin="typical"> ${setting.kelvin}<//></p>
`;

/** What the lamp cannot give is made up before it. @param {{below: NonNullable<Dim["below"]>}} props */
const Below = ({ below }) => html`
  <p>
    That is as low as it goes: <strong>${worded(below.left.quantity)}</strong> are left to lose. Use ${scrims(below)}, or diffusion that passes
    ${" "}<strong class="number">${worded(below.transmission.quantity)}</strong>${below.distance && html`, or move it to <strong class="number">${worded(below.distance.quantity)}</strong>`}.
  </p>
`;

/** @param {NonNullable<Dim["below"]>} below */
function scrims({ doubles, singles, left_over }) {
  const parts = [doubles && `${doubles} double`, singles && `${singles} single`].filter(Boolean);
  return parts.length ? `${parts.join(" and ")} scrim (${worded(left_over.quantity)} then left)` : "no scrim: it would take too much";
}

/** @param {{table: Setting[]}} props */
const Table = ({ table }) => html`
  <table>
    <thead><tr><th scope="col">Power</th><th scope="col">Control</th><th scope="col">Light</th><th scope="col">Stops</th><th scope="col">Colour, estimate</th></tr></thead>
    <tbody>
      ${table.map(
        (row) => html`<tr>
          <th scope="row" class="number">${worded(row.power.quantity)}</th><td class="number">${row.level ? worded(row.level.quantity) : "not known"}</td>
          <td class="number">${worded(row.light.quantity)}</td><td class="number">${worded(row.stops.quantity)}</td><td>${row.kelvin}</td>
        </tr>`,
      )}
    </tbody>
  </table>
`;
