// The log of an arc: a frequency and what was seen at it, one tap each; the quiet windows come out.
import { useSignal } from "@preact/signals";
import { asFailure } from "../../state/calculator.js";
import { go, tell } from "../../state/screen.js";
import { lamps, rework, useAnswer } from "../../state/shots.js";
import { Fields } from "../../ui/field.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { FailureBox } from "../../ui/lists.js";
import { Plot } from "../../ui/plot.js";
import { worded } from "../../ui/term.js";
import { Entry, LampSelect } from "./entries.js";
import { goTo } from "./names.js";
import { Tones } from "./tones.js";
import { ShotsTop } from "./top.js";

/** @typedef {import("../../state/shot_shapes.js").Sweep} Sweep */

const STEPS = [-10, 10]; // Hz: what one tap moves the entry by, as a ballast's knob is turned

/** @param {{id: string}} props */
export function SweepView({ id }) {
  const arcs = lamps.value.filter((lamp) => lamp.kind === "arc lamp");
  const load = arcs.some((lamp) => lamp.id === id) ? id : (arcs[0]?.id ?? "");
  return html`
    <${ShotsTop} title="Arc sweep log" back=${["shots"]} />
    <main id="main" tabindex="-1" class="shots-page">
      ${load ? html`<${Log} key=${load} load=${load} arcs=${arcs} />` : html`<p class="waiting">This rig has no arc lamp to sweep.</p>`}
    </main>
  `;
}

/** @param {{load: string, arcs: {id: string, name: string}[]}} props */
function Log({ load, arcs }) {
  const { answer, trouble, stale } = useAnswer("arc_sweep", { load });
  const sweep = /** @type {Sweep | null} */ (answer);
  return html`
    <${LampSelect} lamps=${arcs} load=${load} choose=${(/** @type {string} */ id) => go("shots", "sweep", id)} label="Lamp" />
    ${trouble && html`<${FailureBox} failure=${trouble} />`}
    ${sweep &&
    html`
      <p class="shots-caution"><${Icon} name="caution" /><span>${sweep.cautions.join(" ")}</span></p>
      <${Ask} sweep=${sweep} load=${load} />
      <${Finding} finding=${{ ...sweep.finding, cautions: [] }} go=${goTo} />
      <${Windows} sweep=${sweep} />
      ${sweep.plot && html`<${Plot} plot=${sweep.plot} stale=${stale} />`}
      <${Readings} sweep=${sweep} load=${load} />
      <${Tones} tones=${sweep.tones} />
      <details><summary>Arc tube and setting</summary><${Fields} fields=${sweep.fields} label="Arc tube and setting" /></details>
    `}
  `;
}

/** @param {{sweep: Sweep, load: string}} props */
function Ask({ sweep, load }) {
  const frequency = useSignal(setting(sweep, load));
  const trouble = useSignal(/** @type {import("../../state/shapes.js").Failure | null} */ (null));
  /** @param {number} by */
  const move = (by) => (frequency.value = `${Math.max(1, (parseFloat(frequency.value) || 0) + by)} Hz`);
  /** @param {string} seen @param {string} label */
  const log = (seen, label) =>
    rework("arc_sweep", { load, add: { frequency: frequency.value, seen } }, `Log ${frequency.value}: ${label.toLowerCase()}`).then(
      () => ((trouble.value = null), tell({ text: `Logged ${frequency.value}: ${label.toLowerCase()}.` })),
      (error) => (trouble.value = asFailure(error)),
    );
  return html`
    <section class="shots-ask" aria-label="Log what is seen">
      <${Entry} id="sweep-frequency" label="The ballast is set to" unit="Hz" value=${frequency.value} put=${(/** @type {string} */ text) => (frequency.value = text)} />
      <div class="shots-steps">${STEPS.map((by) => html`<button type="button" class="button" onClick=${() => move(by)}>${by < 0 ? "−" : "+"}${Math.abs(by)} Hz</button>`)}</div>
      <h2 id="sweep-what">What is seen there?</h2>
      <div class="shots-seen" role="group" aria-labelledby="sweep-what">
        ${sweep.choices.map(({ value, label }) => html`<button type="button" class="tile" onClick=${() => log(value, label)}>${label}</button>`)}
      </div>
      ${trouble.value && html`<${FailureBox} failure=${trouble.value} />`}
    </section>
  `;
}

/** Where to start: the setting as the rig has it. @param {Sweep} sweep @param {string} load */
function setting(sweep, load) {
  const field = sweep.fields.find(({ address }) => address === `loads/${load}/ballast/output_frequency`);
  return (field?.text || field?.typical?.text || "").replaceAll("\u00a0", " ");
}

/** @param {{sweep: Sweep}} props */
const Windows = ({ sweep }) =>
  sweep.windows.length > 0 &&
  html`<section class="shots-windows" aria-label="Quiet windows">
    <h2>Quiet windows, the widest first</h2>
    <ol>${sweep.windows.map(({ low, high, width, readings }) => html`<li><strong class="number">${worded(low)} to ${worded(high)}</strong><span class="note">${worded(width)} wide, ${readings} ${readings === 1 ? "reading" : "readings"}</span></li>`)}</ol>
  </section>`;

/** @param {{sweep: Sweep, load: string}} props */
const Readings = ({ sweep, load }) =>
  sweep.readings.length > 0 &&
  html`<details class="shots-logged">
    <summary>All readings (${sweep.readings.length})</summary>
    <ul>
      ${sweep.readings.map(
        ({ frequency, words }, i) => html`<li>
          <span><strong class="number">${worded(frequency)}</strong> ${words}</span>
          <button type="button" class="icon-button" aria-label="Remove ${worded(frequency)}, ${words}" onClick=${() => rework("arc_sweep", { load, remove: i }, `Remove ${worded(frequency)} from the log`)}><${Icon} name="close" /></button>
        </li>`,
      )}
    </ul>
  </details>`;
