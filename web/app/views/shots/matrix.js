import { href } from "../../state/screen.js";
import { html } from "../../ui/html.js";
import { tied, worded } from "../../ui/term.js";
import { VerdictTag } from "../../ui/verdict.js";
import { shotName } from "./names.js";

/**
 * @typedef {import("../../state/shot_shapes.js").Shots} Shots
 * @typedef {import("../../state/shot_shapes.js").Row} Row
 * @typedef {import("../../state/shot_shapes.js").Cell} Cell
 */

/** Shots down, lamps across; a long list of lamps scrolls in its own box. @param {{shots: Shots, open: string, load: string}} props */
export const Matrix = ({ shots, open, load }) => html`
  <div class="shots-matrix" tabindex="0" role="group" aria-label="Shots against lamps">
    <table>
      <caption class="hidden">Shots against lamps: the verdict on each shot as it is lit, then under each lamp by itself</caption>
      <thead>
        <tr>
          <th scope="col">Shot</th><th scope="col">As lit</th>
          ${shots.lamps.map((lamp) => html`<th scope="col">${lamp.name}<span class="note">${tied(lamp.title)}</span></th>`)}
        </tr>
      </thead>
      <tbody>
        ${shots.shots.map((row) => html`<${Line} key=${row.id} row=${row} open=${row.id === open} load=${load} />`)}
      </tbody>
    </table>
  </div>
`;

/** @param {{row: Row, open: boolean, load: string}} props */
const Line = ({ row, open, load }) => html`
  <tr class=${open ? "is-open" : ""}>
    <th scope="row">
      <strong>${shotName(row)}</strong>
      ${row.name && row.name !== row.text && html`<span class="note">${tied(row.text)}</span>`}
    </th>
    <td><${Link} to=${[row.id]} verdict=${row.verdict} spread=${row.spread} here=${open && !load} under="as lit" shot=${shotName(row)} share="" /></td>
    ${row.cells.map((cell) => html`<td class=${row.shared && !cell.share ? "is-off" : ""}><${CellLink} row=${row} cell=${cell} here=${open && load === cell.load} /></td>`)}
  </tr>
`;

/** @param {{row: Row, cell: Cell, here: boolean}} props */
const CellLink = ({ row, cell, here }) => {
  const share = cell.share ? `${worded(cell.share)} of the light` : row.shared ? "not on it" : "";
  return html`<${Link} to=${[row.id, cell.load]} verdict=${cell.verdict} spread=${cell.spread} here=${here} under="" shot=${shotName(row)} share=${share} />`;
};

/**
 * @param {{to: string[], verdict: Cell["verdict"], spread: Cell["spread"], here: boolean, under: string, shot: string, share: string}} props
 */
const Link = ({ to, verdict, spread, here, under, shot, share }) => html`
  <a class="shots-cell" href=${href("shots", "shot", ...to)} aria-current=${here ? "true" : undefined}>
    <span class="hidden">${shot} ${under}: </span><${VerdictTag} verdict=${verdict} />
    ${spread && html`<span class="number">${worded(spread)}</span>`}
    ${share && html`<span class="note">${share}</span>`}
  </a>
`;
