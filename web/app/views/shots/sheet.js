// The shot list to hand over: black on white, the same on the screen as on paper.
import { useAnswer } from "../../state/shots.js";
import { html } from "../../ui/html.js";
import { FailureBox, Problems } from "../../ui/lists.js";
import { sentence, tied, worded } from "../../ui/term.js";
import { VerdictTag } from "../../ui/verdict.js";
import { capital, shotName } from "./names.js";
import { ShotsTop } from "./top.js";

/** @typedef {import("../../state/shot_shapes.js").ShotsSheet} ShotsSheet */

const ACROSS = 6; // lamps beside each other on a page

export function SheetView() {
  const { answer, trouble } = useAnswer("shots_sheet", {});
  const sheet = /** @type {ShotsSheet | null} */ (answer);
  return html`
    <${ShotsTop} title="Shot sheet" back=${["shots"]} />
    <main id="main" tabindex="-1" class="shots-page shots-sheet">
      ${trouble && html`<${FailureBox} failure=${trouble} />`}
      ${!sheet && !trouble && html`<p class="waiting" role="status">The sheet is being worked out.</p>`}
      ${sheet && html`<${Body} sheet=${sheet} />`}
    </main>
  `;
}

/** @param {{sheet: ShotsSheet}} props */
const Body = ({ sheet }) => html`
  <button type="button" class="button main" onClick=${() => print()}>Print or save as PDF</button>
  <header class="sheet-head">
    <h2>Light on camera: ${sheet.name || "shot list"}</h2>
    <p>${new Date().toLocaleDateString(undefined, { weekday: "long", day: "numeric", month: "long", year: "numeric" })}. ${tied(sheet.supply)}.</p>
    <p>Steady up to ${limit(sheet, 0)}, spoiled above ${limit(sheet, 1)}.</p>
  </header>
  ${chunks(sheet.lamps).map((lamps, i, all) => html`<${Verdicts} sheet=${sheet} lamps=${lamps} part=${all.length > 1 ? ` (${i + 1} of ${all.length})` : ""} />`)}
  <section aria-label="Shot by shot"><h3>Shot by shot</h3>${sheet.shots.map((shot) => html`<${Shot} key=${shot.id} shot=${shot} />`)}</section>
  <${Fastest} sheet=${sheet} />
  <${Estimated} sheet=${sheet} />
  <p class="sheet-sign"><span>Checked by</span><span>Date and time</span></p>
`;

/** A threshold. @param {ShotsSheet} sheet @param {number} which */
const limit = ({ limits }, which) => html`<strong>${limits[which] ? worded(limits[which].quantity) : "not known"}</strong>`;

/** @template T @param {T[]} list @returns {T[][]} */
const chunks = (list) => Array.from({ length: Math.ceil(list.length / ACROSS) }, (_, i) => list.slice(i * ACROSS, (i + 1) * ACROSS));

/** @param {{sheet: ShotsSheet, lamps: ShotsSheet["lamps"], part: string}} props */
const Verdicts = ({ sheet, lamps, part }) => html`
  <section aria-label="Shots against lamps${part}">
    <h3>Shots against lamps${part}</h3>
    <div class="sheet-wide" tabindex="0" role="group" aria-label="Verdicts${part}">
      <table>
        <thead><tr><th scope="col">Shot</th><th scope="col">As lit</th>${lamps.map((lamp) => html`<th scope="col">${lamp.name}</th>`)}</tr></thead>
        <tbody>
          ${sheet.shots.map(
            (shot) => html`<tr>
              <th scope="row">${shotName(shot)}${shot.name && html`<span class="note">${tied(shot.text)}</span>`}</th>
              <${Cell} cell=${shot} />
              ${lamps.map((lamp) => html`<${Cell} cell=${shot.cells.find((cell) => cell.load === lamp.id)} off=${shot.shared} />`)}
            </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </section>
`;

/** @param {{cell: import("../../state/shot_shapes.js").Cell | ShotsSheet["shots"][number] | undefined, off?: boolean}} props */
const Cell = ({ cell, off = false }) =>
  cell
    ? html`<td><${VerdictTag} verdict=${cell.verdict} />${cell.spread && html`<span class="number">${worded(cell.spread)}</span>`}${off && "share" in cell && html`<span class="note">${cell.share ? `${worded(cell.share)} of it` : "not on it"}</span>`}</td>`
    : html`<td></td>`;

/** @param {{shot: ShotsSheet["shots"][number]}} props */
const Shot = ({ shot }) => html`
  <div class="sheet-shot">
    <h4>${shotName(shot)} <${VerdictTag} verdict=${shot.verdict} /></h4>
    <p>${tied(capital(shot.text))}. Lit by: ${tied(shot.lit)}.</p>
    <p>${tied(sentence(shot.says))}</p>
    ${shot.advice.length > 0 && html`<p><strong>What helps:</strong></p><ul>${shot.advice.map((text) => html`<li>${tied(sentence(text))}</li>`)}</ul>`}
  </div>
`;

/** @param {{sheet: ShotsSheet}} props */
const Fastest = ({ sheet }) => html`
  <section aria-label="How fast each lamp may be filmed">
    <h3>How fast each lamp may be filmed${sheet.at && `, ${tied(sheet.at)}`}</h3>
    <div class="sheet-wide" tabindex="0" role="group" aria-label="How fast each lamp may be filmed">
      <table>
        <thead><tr><th scope="col">Lamp</th><th scope="col">Its light</th><th scope="col">Steady up to, rounded down</th></tr></thead>
        <tbody>
          ${sheet.lamps.map(
            (lamp) => html`<tr><th scope="row">${lamp.name}</th><td>${tied(lamp.title)}</td><td class="number">${lamp.shown ? worded(lamp.shown) : lamp.steady ? "every rate" : "not known"}</td></tr>`,
          )}
        </tbody>
      </table>
    </div>
    <${Problems} problems=${sheet.unknown} />
  </section>
`;

/** @param {{sheet: ShotsSheet}} props */
const Estimated = ({ sheet }) => html`
  <section aria-label="What is estimated">
    <h3>What is estimated</h3>
    <p>These were neither measured nor read off a nameplate. A figure that leans on them is an estimate.</p>
    <ul>
      ${[...new Set(sheet.estimates.map(({ lamp }) => lamp))].map(
        (lamp) => html`<li>
          <strong>${lamp || "All shots"}:</strong> ${sheet.estimates.filter((one) => one.lamp === lamp).map(({ term }) => `${term.name} ${worded(term.quantity)} (${term.origin})`).join("; ")}.
        </li>`,
      )}
    </ul>
    <ul>${sheet.cautions.map((text) => html`<li>${sentence(text)}</li>`)}</ul>
  </section>
`;
