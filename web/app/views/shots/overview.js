import { addShot } from "../../state/shots.js";
import { goAfter, href, tell, wide } from "../../state/screen.js";
import { record } from "../../state/rig.js";
import { asFailure } from "../../state/calculator.js";
import { Fields } from "../../ui/field.js";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { Problems, Remedies } from "../../ui/lists.js";
import { tied } from "../../ui/term.js";
import { Shape, WORDS } from "../../ui/verdict.js";
import { Cards } from "./cards.js";
import { Matrix } from "./matrix.js";
import { goTo } from "./names.js";

/** @typedef {import("../../state/shot_shapes.js").Shots} Shots */

/** The whole list in one glance, then shot by shot. @param {{shots: Shots, stale: boolean, open: string, load: string}} props */
export const Overview = ({ shots, stale, open, load }) => html`
  <section class="shots-overview" aria-label="Shot list">
    <div class="summary summary-${shots.verdict} ${stale ? "behind" : ""}">
      <${Shape} verdict=${shots.verdict} />
      <div role="status">
        <p class="headline">${WORDS[shots.verdict]}: ${shots.headline.replace(/^E/, "e")}</p>
        <p>${count(shots.shots.length, "shot")}, ${count(shots.lamps.length, "lamp")}, on ${record.value?.name || "this rig"}</p>
      </div>
    </div>
    <${Problems} problems=${shots.problems.filter(({ address }) => /^(shots|picture)/.test(address))} go=${goTo} />
    ${shots.lamps.length === 0 && html`<p class="waiting">This rig has no lamp yet. <a href=${href("add")}>Add a lamp</a> to see what it does to the shots.</p>`}
    ${wide.value ? html`<${Matrix} shots=${shots} open=${open} load=${load} />` : html`<${Cards} shots=${shots} />`}
    <button type="button" class="button main" onClick=${add}><${Icon} name="plus" />Add a shot</button>
    <${ListAdvice} shots=${shots} />
    <${Tools} shots=${shots} />
    <details class="shots-limit">
      <summary>What counts as steady</summary>
      <${Fields} fields=${shots.limit_fields} label="What counts as steady" />
    </details>
  </section>
`;

/** @param {number} number @param {string} word */
const count = (number, word) => `${number}\u00a0${word}${number === 1 ? "" : "s"}`;

async function add() {
  try {
    await goAfter(() => addShot());
  } catch (error) {
    tell({ text: asFailure(error).message });
  }
}

/** What would make every shot of the list steady. @param {{shots: Shots}} props */
const ListAdvice = ({ shots }) =>
  shots.list_advice.length > 0 &&
  html`<section class="shots-advice" aria-label="For the whole list">
    <h2>For the whole list</h2>
    <${Remedies} remedies=${shots.list_advice} />
  </section>`;

/** What else belongs to light on camera. @param {{shots: Shots}} props */
const Tools = ({ shots }) => html`
  <nav class="shots-tools" aria-label="More about the light">
    <a class="tile" href=${href("shots", "recording")}>Read a recording<span class="tile-line">${tied("Flicker of a real lamp, from a file")}</span></a>
    <a class="tile" href=${href("shots", "sweep")}>Arc sweep log<span class="tile-line">Where the arc is quiet</span></a>
    <a class="tile" href=${href("shots", "exposure", shots.shots[0]?.id ?? "")}>Exposure<span class="tile-line">Is there light enough?</span></a>
    <a class="tile" href=${href("shots", "sheet")}>Shot sheet<span class="tile-line">To print and hand over</span></a>
  </nav>
`;
