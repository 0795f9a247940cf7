import { useSignal } from "@preact/signals";
import { edit } from "../../state/rig.js";
import { useAnswer } from "../../state/shots.js";
import { SegmentedButtons } from "../../ui/choice.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { FailureBox } from "../../ui/lists.js";
import { worded } from "../../ui/term.js";
import { Entry } from "../shots/entries.js";
import { goTo } from "../shots/names.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Refit} Refit
 * @typedef {{setting: string, light: string}} Reading
 */

const OF = [
  { value: "power", label: "Electrical power" },
  { value: "level", label: "Knob or control" },
];

/** A lamp's own law, from what the light meter says at settings of it. @param {{load: string}} props */
export function RefitPart({ load }) {
  const readings = useSignal(/** @type {Reading[]} */ ([{ setting: "100 %", light: "" }, { setting: "", light: "" }, { setting: "", light: "" }]));
  const of = useSignal("level");
  const asked = useSignal(/** @type {object | null} */ (null));
  const given = readings.value.filter(({ setting, light }) => setting.trim() && light.trim());
  /** @param {number} at @param {Partial<Reading>} change */
  const put = (at, change) => (readings.value = readings.value.map((reading, k) => (k === at ? { ...reading, ...change } : reading)));
  return html`
    <p>Leave the meter where it is, and read it at each setting.</p>
    <fieldset class="field"><legend>The setting is a share of</legend><${SegmentedButtons} name="refit-of" value=${of.value} options=${OF} choose=${(/** @type {string} */ value) => (of.value = value)} /></fieldset>
    ${readings.value.map(
      (reading, k) => html`<div class="fields" key=${k}>
        <${Entry} id="refit-setting-${k}" label="Setting ${k + 1}" unit="%" value=${reading.setting} put=${(/** @type {string} */ setting) => put(k, { setting })} />
        <${Entry} id="refit-light-${k}" label="Light ${k + 1}" unit="lx" value=${reading.light} put=${(/** @type {string} */ light) => put(k, { light })} />
      </div>`,
    )}
    <div class="button-row">
      <button type="button" class="button" onClick=${() => (readings.value = [...readings.value, { setting: "", light: "" }])}>Another reading</button>
      <button type="button" class="button" disabled=${given.length < 2} onClick=${() => (asked.value = { load, of: of.value, readings: given })}>Find its law</button>
    </div>
    ${asked.value && html`<${Answer} key=${JSON.stringify(asked.value)} asked=${asked.value} load=${load} />`}
  `;
}

/** @param {{asked: object, load: string}} props */
function Answer({ asked, load }) {
  const { answer, trouble } = useAnswer("refit", asked);
  const fit = /** @type {Refit | null} */ (answer);
  if (trouble) return html`<${FailureBox} failure=${trouble} />`;
  if (!fit) return html`<p role="status">Fitting the readings.</p>`;
  return html`
    <p role="status">Exponent <strong class="number">${worded(fit.exponent.quantity)}</strong>. The worst reading stands off by <strong class="number">${worded(fit.residual.quantity)}</strong>.</p>
    <div class="plot-tables" tabindex="0" role="group" aria-label="Readings as stops">
      <table>
        <thead><tr><th scope="col">Setting</th><th scope="col">Light</th><th scope="col">Stops</th></tr></thead>
        <tbody>
          ${fit.points.map(
            ({ setting, light, stops }) => html`<tr>
              <th scope="row" class="number">${worded(setting.quantity)}</th><td class="number">${light && worded(light.quantity)}</td><td class="number">${worded(stops.quantity)}</td>
            </tr>`,
          )}
        </tbody>
      </table>
    </div>
    <${BothWays} asked=${asked} />
    <${Finding} finding=${fit.finding} go=${goTo} />
    ${fit.changes.length > 0 && !fit.finding.remedies.length && html`<button type="button" class="button" onClick=${() => edit(fit.changes, `Own law of ${load}`)}>Use this law for ${load}</button>`}
  `;
}

/** By these readings: the setting for wanted stops, and the stops at a setting. @param {{asked: object}} props */
function BothWays({ asked }) {
  const stops = useSignal("");
  const setting = useSignal("");
  return html`
    <div class="fields">
      <${Entry} id="refit-stops" label="By its own law, less light by" unit="stops" value=${stops.value} put=${(/** @type {string} */ text) => (stops.value = text.replace(/ ?stops$/, ""))} />
      <${Entry} id="refit-at" label="Or the setting is" unit="%" value=${setting.value} put=${(/** @type {string} */ text) => (setting.value = text)} />
    </div>
    ${stops.value.trim() && html`<${Way} asked=${asked} way=${{ stops: stops.value }} />`}
    ${setting.value.trim() && html`<${Way} asked=${asked} way=${{ setting: setting.value }} />`}
  `;
}

/** @param {{asked: object, way: {stops?: string, setting?: string}}} props */
function Way({ asked, way }) {
  const { answer, trouble } = useAnswer("refit", { ...asked, ...way }, `refit ${Object.keys(way)}`);
  const fit = /** @type {Refit | null} */ (answer);
  if (trouble) return html`<${FailureBox} failure=${trouble} />`;
  const point = fit && (way.stops ? fit.wanted : fit.given);
  return html`<p role="status">${point && html`At <strong class="number">${worded(point.setting.quantity)}</strong> it gives <strong class="number">${worded(point.stops.quantity)}</strong>.`}</p>`;
}
