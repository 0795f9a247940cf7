import { href } from "../../state/screen.js";
import { html } from "../../ui/html.js";
import { tied, worded } from "../../ui/term.js";
import { VerdictTag } from "../../ui/verdict.js";

/**
 * @typedef {import("../../state/shot_shapes.js").Row} Row
 * @typedef {import("../../state/shot_shapes.js").ShotLamp} ShotLamp
 * @typedef {import("../../state/shapes.js").Verdict} Verdict
 * @typedef {import("../../state/shapes.js").Quantity} Quantity
 */

/** The lamps of a shot with their verdicts; each opens the shot under that lamp alone. @param {{row: Row, lamps: ShotLamp[], under: string}} props */
export const LampChoice = ({ row, lamps, under }) => html`
  <nav class="shots-lamps" aria-label="Lamps on this shot">
    <h2>Under each lamp</h2>
    <ul>
      ${(row.shared || row.cells.length > 1) && html`<li><${Choice} to=${[row.id]} name=${row.shared ? "All together" : "Each by itself"} line=${row.shared ? "As it is lit" : "No shares are entered: the worst counts"} verdict=${row.verdict} spread=${row.spread} here=${under === ""} /></li>`}
      ${row.cells.map((cell) => {
        const lamp = lamps.find(({ id }) => id === cell.load);
        const share = cell.share ? `${worded(cell.share)} of the light. ` : row.shared ? "Not on this shot. " : "";
        return html`<li>
          <${Choice} to=${[row.id, cell.load]} name=${lamp?.name ?? cell.load} line="${share}${lamp?.title ?? ""}" verdict=${cell.verdict} spread=${cell.spread} here=${under === cell.load} />
        </li>`;
      })}
    </ul>
  </nav>
`;

/** @param {{to: string[], name: string, line: string, verdict: Verdict, spread: Quantity | null, here: boolean}} props */
const Choice = ({ to, name, line, verdict, spread, here }) => html`
  <a class="shots-lamp" href=${href("shots", "shot", ...to)} aria-current=${here ? "true" : undefined}>
    <strong>${name}</strong><${VerdictTag} verdict=${verdict} />
    <span class="note">${tied(line)}</span>${spread && html`<span class="number">${worded(spread)}</span>`}
  </a>
`;
