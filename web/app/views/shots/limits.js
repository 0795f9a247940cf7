// Up to which frame rate a lamp is steady, in each of its modes, and the rates and angles that are safe by the law.
import { useAnswer } from "../../state/shots.js";
import { Fields } from "../../ui/field.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { FailureBox, Problems } from "../../ui/lists.js";
import { Plot } from "../../ui/plot.js";
import { Origin, sentence, tied, worded } from "../../ui/term.js";
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
  const name = lamps.find((lamp) => lamp.id === under)?.name;
  return html`
    <section class="shots-limits" aria-label="How fast may it be filmed?">
      <h2>How fast may ${name ?? "it"} be filmed?</h2>
      ${trouble && html`<${FailureBox} failure=${trouble} />`}
      ${limits && html`<${Body} limits=${limits} shot=${shot} mark=${mark} stale=${stale} />`}
    </section>
  `;
}

/** @param {{limits: Limits, shot: string, mark: string, stale: boolean}} props */
const Body = ({ limits, shot, mark, stale }) => html`
  <${Problems} problems=${limits.unknown} go=${goTo} />
  ${limits.says && html`<p><strong>${tied(sentence(limits.says))}</strong></p>`}
  ${limits.load ? html`<ul class="shots-modes">${limits.modes.map((mode) => html`<li key=${mode.id}><${ModeLine} mode=${mode} /></li>`)}</ul>` : html`<${Beside} modes=${limits.modes} />`}
  <${SafeList} title="Safe frame rates at any shutter" list=${limits.rates} />
  <${SafeList} title="Safe shutter angles at this rate" list=${limits.angles} />
  ${limits.plot && limits.modes.length > 1 && html`<${Plot} key=${`${limits.load}/${shot}`} plot=${limits.plot} mark=${mark} stale=${stale} />`}
  <details>
    <summary>Working of these limits</summary>
    ${limits.modes.map((mode) => html`<${Finding} finding=${{ ...mode.finding, title: limits.load ? mode.title : `${mode.lamp}: ${mode.title}` }} go=${goTo} />`)}
  </details>
  ${limits.fields.length > 0 && html`<details><summary>What the ballast can be set to</summary><${Fields} fields=${limits.fields} label="Range of the ballast" /></details>`}
`;

/** The lamps of the shot beside each other, as they are set. @param {{modes: Mode[]}} props */
const Beside = ({ modes }) => html`
  <table class="shots-beside">
    <caption class="hidden">Highest steady frame rate of each lamp</caption>
    <thead><tr><th scope="col">Lamp</th><th scope="col">Steady up to, rounded down</th></tr></thead>
    <tbody>
      ${modes.map(
        (mode) => html`<tr key=${mode.id}>
          <th scope="row"><strong>${mode.lamp}</strong><span class="note">${tied(mode.title)}</span></th>
          <td>${mode.shown ? html`<span class="figure">${mode.shown.shown}</span> ${mode.shown.shown_unit}` : "every rate"}</td>
        </tr>`,
      )}
    </tbody>
  </table>
  ${modes.length > 0 && html`<p class="note">Whatever the pulses do. Above that a lamp is steady only where exposures hold whole pulses. Open a lamp above for its other modes and its safe rates.</p>`}
`;

/** @param {{mode: Mode}} props */
const ModeLine = ({ mode }) => html`
  <div class=${mode.present ? "shots-mode is-present" : "shots-mode"}>
    <p><strong>${tied(mode.title)}</strong> <span class="chip">${mode.present ? "set now" : "another mode"}</span></p>
    ${mode.shown && html`<p><span class="figure">${mode.shown.shown}</span> ${mode.shown.shown_unit} is the highest steady rate, rounded down${mode.highest && mode.highest.origin !== "computed" ? html` <${Origin} origin=${mode.highest.origin} />` : ""}</p>`}
    <p class="note">${tied(sentence(mode.finding.says))}</p>
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

const AT_ONCE = 10; // safe values; slower ones than these are seldom asked for

/** @param {{list: Safe[], kind: string}} props */
const Values = ({ list, kind }) => html`
  <${Some} list=${list.slice(0, AT_ONCE)} kind=${kind} />
  ${list.length > AT_ONCE && html`<details><summary>${list.length - AT_ONCE} more</summary><${Some} list=${list.slice(AT_ONCE)} kind=${kind} /></details>`}
`;

/** @param {{list: Safe[], kind: string}} props */
const Some = ({ list, kind }) => html`
  <ul class="shots-values shots-values-${kind}">${list.map((safe) => html`<li class="number">${worded(safe.value.quantity)}</li>`)}</ul>
`;

