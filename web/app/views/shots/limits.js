// Up to which frame rate a lamp is steady, in each of its modes, and the rates and angles that are safe by the law.
import { useAnswer } from "../../state/shots.js";
import { Fields } from "../../ui/field.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { FailureBox, Problems } from "../../ui/lists.js";
import { Plot } from "../../ui/plot.js";
import { Origin, tied, worded } from "../../ui/term.js";
import { goTo } from "./names.js";

/**
 * @typedef {import("../../state/shot_shapes.js").Limits} Limits
 * @typedef {import("../../state/shot_shapes.js").Mode} Mode
 * @typedef {import("../../state/shot_shapes.js").Safe} Safe
 * @typedef {import("../../state/shot_shapes.js").ShotLamp} ShotLamp
 */

/** @param {{shot: string, mark: string, lamps: ShotLamp[], under: string}} props */
export function LimitsPart({ shot, mark, lamps, under }) {
  const { answer, trouble, stale } = useAnswer("limits", { load: under, shot });
  const limits = /** @type {Limits | null} */ (answer);
  const name = lamps.find((lamp) => lamp.id === under)?.name ?? under;
  return html`
    <section class="shots-limits" aria-label="How fast may it be filmed?">
      <h2>How fast may ${name} be filmed?</h2>
      ${trouble && html`<${FailureBox} failure=${trouble} />`}
      ${limits && html`<${Body} limits=${limits} shot=${shot} mark=${mark} stale=${stale} />`}
    </section>
  `;
}

/** @param {{limits: Limits, shot: string, mark: string, stale: boolean}} props */
const Body = ({ limits, shot, mark, stale }) => html`
  <${Problems} problems=${limits.unknown} go=${goTo} />
  <ul class="shots-modes">${limits.modes.map((mode) => html`<li key=${mode.id}><${ModeLine} mode=${mode} /></li>`)}</ul>
  <${SafeList} title="Safe frame rates at this angle" list=${limits.rates} />
  <${SafeList} title="Safe shutter angles at this rate" list=${limits.angles} />
  ${limits.plot && limits.modes.length > 1 && html`<${Plot} key=${`${limits.load}/${shot}`} plot=${limits.plot} mark=${mark} stale=${stale} />`}
  <details>
    <summary>Working of these limits</summary>
    ${limits.modes.map((mode) => html`<${Finding} finding=${{ ...mode.finding, title: mode.title }} go=${goTo} />`)}
  </details>
  ${limits.fields.length > 0 && html`<details><summary>What the ballast can be set to</summary><${Fields} fields=${limits.fields} label="Range of the ballast" /></details>`}
`;

/** @param {{mode: Mode}} props */
const ModeLine = ({ mode }) => html`
  <div class=${mode.present ? "shots-mode is-present" : "shots-mode"}>
    <p><strong>${tied(mode.title)}</strong> ${mode.present ? html`<span class="chip">set now</span>` : html`<span class="chip">another mode</span>`}</p>
    ${mode.highest && html`<p><span class="figure">${mode.highest.quantity.shown}</span> ${mode.highest.quantity.shown_unit} is the highest steady rate${mode.highest.origin !== "computed" ? html` <${Origin} origin=${mode.highest.origin} />` : ""}</p>`}
    <p class="note">${tied(mode.finding.says)}</p>
  </div>
`;

/** Those that no drift can spoil stand apart from those that hold only while the clocks do. @param {{title: string, list: Safe[]}} props */
function SafeList({ title, list }) {
  if (!list.length) return null;
  const proof = list.filter((safe) => safe.drift_proof);
  const locked = list.filter((safe) => !safe.drift_proof);
  return html`
    <div class="shots-safe">
      <h3>${title}</h3>
      ${proof.length > 0 && html`<h4>Whatever the clocks do</h4><${Values} list=${proof} kind="proof" />`}
      ${locked.length > 0 && html`<h4>Only while supply and camera clocks hold</h4><${Values} list=${locked} kind="locked" />`}
    </div>
  `;
}

/** @param {{list: Safe[], kind: string}} props */
const Values = ({ list, kind }) => html`
  <ul class="shots-values shots-values-${kind}">${list.map((safe) => html`<li class="number">${worded(safe.value.quantity)}</li>`)}</ul>
`;

