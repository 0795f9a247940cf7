// One shot: its verdict, what to do about it, the lamps on it, its pictures, its entries, its working.
import { addShot, removeShot, useAnswer } from "../../state/shots.js";
import { asFailure } from "../../state/calculator.js";
import { goAfter, href, tell } from "../../state/screen.js";
import { Fields } from "../../ui/field.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { FailureBox, Remedies } from "../../ui/lists.js";
import { Plot } from "../../ui/plot.js";
import { sentence, tied } from "../../ui/term.js";
import { Shape, WORDS } from "../../ui/verdict.js";
import { BandPicture } from "./band_picture.js";
import { LampChoice } from "./lamp_choice.js";
import { Lights } from "./lights.js";
import { LimitsPart } from "./limits.js";
import { capital, goTo, shotName } from "./names.js";

/**
 * @typedef {import("../../state/shot_shapes.js").Row} Row
 * @typedef {import("../../state/shot_shapes.js").ShotLamp} ShotLamp
 * @typedef {import("../../state/shot_shapes.js").ShotAnswer} ShotAnswer
 */

/** @param {{row: Row, lamps: ShotLamp[], load: string, heading: boolean}} props */
export function ShotPanel({ row, lamps, load, heading }) {
  const under = lamps.some((lamp) => lamp.id === load) ? load : "";
  const { answer, trouble, stale } = useAnswer("shot", { shot: row.id, load: under });
  const shot = /** @type {ShotAnswer | null} */ (answer);
  return html`
    <section class="shots-panel" aria-label="The shot">
      ${heading && html`<h2 class="shots-name">${shotName(row)}</h2>`}
      ${trouble && html`<${FailureBox} failure=${trouble} />`}
      ${shot && html`<${Body} shot=${shot} row=${row} lamps=${lamps} under=${under} stale=${stale} />`}
    </section>
  `;
}

/** @param {{shot: ShotAnswer, row: Row, lamps: ShotLamp[], under: string, stale: boolean}} props */
function Body({ shot, row, lamps, under, stale }) {
  const name = shotName(row);
  const plots = [...shot.plots].sort((a, b) => Number(b.id === "ramp") - Number(a.id === "ramp"));
  return html`
    <div class="shots-answer">
      <${Answer} shot=${shot} stale=${stale} />
      <${Fields} fields=${shot.fields} label="The shot" />
    </div>
    <${LampChoice} row=${row} lamps=${lamps} under=${under} />
    <${Shares} shot=${shot} />
    <div class="shots-plots">
      ${plots.map((plot) => html`<${Plot} key=${`${plot.id}/${under}`} plot=${plot} mark=${name} stale=${stale} />`)}
      <${BandPicture} finding=${shot.finding} />
    </div>
    <${Finding} finding=${{ ...shot.finding, remedies: [] }} go=${goTo} />
    <${Lights} lights=${shot.lamps.filter((light) => !under || light.id === under)} />
    ${lamps.length > 0 && html`<${LimitsPart} shot=${row.id} mark=${name} lamps=${lamps} under=${lamps.length === 1 ? lamps[0].id : under} />`}
    <${Actions} row=${row} />
  `;
}

/** @param {{shot: ShotAnswer, stale: boolean}} props */
function Answer({ shot, stale }) {
  const { verdict, says, remedies } = shot.finding;
  const [first, ...rest] = says.split(/[;:,] (?=.)/);
  return html`
    <div class="summary summary-${verdict} ${stale ? "behind" : ""}">
      <${Shape} verdict=${verdict} />
      <div role="status">
        <p class="headline">${WORDS[verdict]}: ${tied(first)}</p>
        ${rest.length > 0 && html`<p>${tied(sentence(capital(says.slice(first.length + 2))))}</p>`}
        ${shot.under && html`<p>${tied(sentence(shot.under.says))}</p>`}
      </div>
    </div>
    <${Remedies} remedies=${remedies} />
  `;
}

/** @param {{shot: ShotAnswer}} props */
const Shares = ({ shot }) =>
  shot.share_fields.length > 1 &&
  html`<details class="shots-shares" open=${shot.share_fields.some((field) => field.problem) || undefined}>
    <summary>Which lamps light it, and how much</summary>
    <p class="note">The share of each lamp in the light at the subject. Leave all empty, and each lamp is judged by itself; no mix is then worse than the worst. <a href=${href("shots", "exposure", shot.shot)}>Work them out from the exposure</a></p>
    <${Fields} fields=${shot.share_fields} label="Shares of the light" />
  </details>`;

/** @param {{row: Row}} props */
const Actions = ({ row }) => html`
  <div class="actions">
    <a class="button" href=${href("shots", "exposure", row.id)}>Is there light enough?</a>
    <button type="button" class="button" onClick=${() => run(() => goAfter(() => addShot(row.id)))}>Copy this shot</button>
    <button type="button" class="button" onClick=${() => run(() => drop(row))}>Remove this shot</button>
  </div>
`;

/** @param {Row} row */
async function drop(row) {
  await goAfter(async () => {
    await removeShot(row.id, shotName(row));
    return ["shots"];
  });
  tell({ text: `Removed ${shotName(row)}. Undo brings it back.` });
}

/** @param {() => Promise<unknown>} act */
const run = (act) => act().catch((error) => tell({ text: asFailure(error).message }));
