import { href } from "../../state/screen.js";
import { html } from "../../ui/html.js";
import { sentence, tied } from "../../ui/term.js";
import { Shape, VerdictTag, WORDS } from "../../ui/verdict.js";
import { WORST_FIRST, shotName } from "./names.js";

/**
 * @typedef {import("../../state/shot_shapes.js").Shots} Shots
 * @typedef {import("../../state/shot_shapes.js").Row} Row
 */

/** On a phone: one card a shot, which opens to its lamps. @param {{shots: Shots}} props */
export const Cards = ({ shots }) => html`
  <ul class="shots-cards" aria-label="Shots">${shots.shots.map((row) => html`<li key=${row.id}><${Card} row=${row} /></li>`)}</ul>
`;

/** @param {{row: Row}} props */
const Card = ({ row }) => html`
  <a class="shots-card" href=${href("shots", "shot", row.id)}>
    <span class="shots-card-head"><strong>${shotName(row)}</strong><${VerdictTag} verdict=${row.verdict} /></span>
    ${row.name && row.name !== row.text && html`<span>${tied(row.text)}</span>`}
    <span class="shots-card-says">${tied(sentence(row.says.split(". ")[0]))}</span>
    ${row.cells.length > 1 && html`<${Tally} row=${row} />`}
  </a>
`;

/** How many lamps are how bad on this shot. @param {{row: Row}} props */
const Tally = ({ row }) => html`
  <span class="tally">
    <span class="note">Lamps</span>
    ${WORST_FIRST.map((verdict) => {
      const number = row.cells.filter((cell) => cell.verdict === verdict).length;
      return number > 0 && html`<span><${Shape} verdict=${verdict} />${number}<span class="hidden"> ${WORDS[verdict].toLowerCase()}</span></span>`;
    })}
  </span>
`;
