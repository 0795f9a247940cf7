// Light at the subject against what the shot needs: by distance, dim and diffusion; short or over by how many stops.
import { edit } from "../../state/rig.js";
import { go } from "../../state/screen.js";
import { useAnswer } from "../../state/shots.js";
import { check } from "../../state/rig.js";
import { Fields } from "../../ui/field.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { FailureBox, Remedies } from "../../ui/lists.js";
import { sentence, tied, worded } from "../../ui/term.js";
import { Shape, VerdictTag, WORDS } from "../../ui/verdict.js";
import { valueOf } from "./entries.js";
import { capital, goTo, shotName } from "./names.js";
import { ShotsTop } from "./top.js";

/** @typedef {import("../../state/shot_shapes.js").Exposure} Exposure */

/** @param {{id: string}} props */
export function ExposureView({ id }) {
  const shots = check.value?.shots ?? [];
  const shot = shots.find((each) => each.id === id) ?? shots[0];
  return html`
    <${ShotsTop} title="Exposure" back=${shot ? ["shots", "shot", shot.id] : ["shots"]} />
    <main id="main" tabindex="-1" class="shots-page">
      <div class="field">
        <label for="exposure-shot">Shot</label>
        <select id="exposure-shot" onChange=${(/** @type {Event} */ event) => go("shots", "exposure", valueOf(event))}>
          ${shots.map((each) => html`<option value=${each.id} selected=${each.id === shot?.id}>${shotName(each)}</option>`)}
        </select>
      </div>
      ${shot && html`<${Budget} key=${shot.id} shot=${shot.id} />`}
    </main>
  `;
}

/** @param {{shot: string}} props */
function Budget({ shot }) {
  const { answer, trouble, stale } = useAnswer("exposure", { shot });
  const budget = /** @type {Exposure | null} */ (answer);
  if (trouble) return html`<${FailureBox} failure=${trouble} />`;
  return budget && html`<${Body} budget=${budget} stale=${stale} />`;
}

/** @param {{budget: Exposure, stale: boolean}} props */
const Body = ({ budget, stale }) => html`
  <div class="summary summary-${budget.finding.verdict} ${stale ? "behind" : ""}">
    <${Shape} verdict=${budget.finding.verdict} />
    <div role="status">
      <p class="headline">${budget.finding.note || WORDS[budget.finding.verdict]}: ${tied(budget.finding.says.split(/[;:] /)[0])}</p>
      <p>${tied(sentence(capital(budget.finding.says.split(/[;:] /).slice(1).join("; "))))}</p>
    </div>
  </div>
  <${Remedies} remedies=${budget.finding.remedies} />
  <section class="shots-part" aria-label="The camera"><h2>The camera</h2><${Fields} fields=${budget.fields.map(shown)} label="The camera" /></section>
  <section class="shots-part" aria-label="The lamps">
    <h2>The lamps</h2>
    ${budget.lamps.map((lamp) => html`<${LampPart} key=${lamp.id} lamp=${lamp} alone=${budget.lamps.length === 1} first=${lamp.id === firstDark(budget)} />`)}
    ${budget.shares?.changes.length && html`<button type="button" class="button" onClick=${() => edit(budget.shares?.changes ?? [], "Shares of the light")}>${tied(budget.shares.text)}</button>`}
  </section>
  <${Finding} finding=${{ ...budget.finding, remedies: [] }} go=${goTo} />
  <${Colours} colours=${budget.colours} />
`;

/** The first lamp whose light is not entered. @param {Exposure} budget */
const firstDark = (budget) => budget.lamps.find((lamp) => !lamp.lux)?.id;

/** Each lamp against the first, in one list; working and figures behind it. @param {{colours: Exposure["colours"]}} props */
const Colours = ({ colours }) =>
  colours.length > 0 &&
  html`<section class="shots-part" aria-label="Do the lamps agree in colour?">
    <h2>Do the lamps agree in colour?</h2>
    <ul class="shots-colours">
      ${colours.map((finding) => html`<li key=${finding.place}><${VerdictTag} verdict=${finding.verdict} /><span>${tied(sentence(finding.says))} ${finding.remedies.map((remedy) => tied(sentence(remedy.text)))}</span></li>`)}
    </ul>
    <details>
      <summary>Working of the colours</summary>
      ${colours.map((finding) => html`<${Finding} finding=${{ ...finding, title: finding.says.split(",")[0], remedies: [] }} go=${goTo} />`)}
    </details>
  </section>`;

/** Stop and speed belong to this question, however rare they are elsewhere. @param {import("../../state/shapes.js").Field} field */
const shown = (field) => ({ ...field, more: /exposure_time|calibration/.test(field.address) });

/** @param {{lamp: Exposure["lamps"][number], alone: boolean, first: boolean}} props */
const LampPart = ({ lamp, alone, first }) => html`
  <details class="shots-light" open=${alone || first || undefined}>
    <summary>
      <span>${lamp.name}${lamp.lux ? html`: <span class="number">${worded(lamp.lux.quantity)}</span>` : ": enter its light"}${lamp.share && !alone ? html`, ${worded(lamp.share)} of the light` : ""}</span>
    </summary>
    <${Fields} fields=${lamp.fields} label="Light of ${lamp.name}" />
  </details>
`;
