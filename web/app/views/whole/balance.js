import { balance, replug } from "../../state/whole.js";
import { html } from "../../ui/html.js";
import { sentence } from "../../ui/term.js";

/** @typedef {import("../../state/whole.js").Balance} Balance */

/** Which lamp on which line. */
export function BalancePart() {
  const found = balance.answer.value;
  return html`
    <section aria-label="Balance the lines">
      <h2>Balance the lines</h2>
      <p>Even lines, a small neutral, and as few re-plugs as that takes.</p>
      <button type="button" class="button wide-button" onClick=${() => balance.ask()}>Find the best lines</button>
      <div role="status">${found && html`<${Proposal} found=${found} />`}</div>
    </section>
  `;
}

/** @param {{found: Balance}} props */
const Proposal = ({ found }) => html`
  <p><strong>${sentence(found.says)}</strong></p>
  ${found.moves.length > 0 &&
  html`
    <ul class="moves">${found.moves.map((move) => html`<li><span>${move.name}</span><span class="number">${move.from} → ${move.to}</span></li>`)}</ul>
    <table class="before-after">
      <thead><tr><th scope="col">Line</th><th scope="col">Now</th><th scope="col">Then</th></tr></thead>
      <tbody>
        ${Object.keys(found.after).map((line) => html`<tr><th scope="row">${line === "N" ? "Neutral" : line}</th><td>${amps(found.before[line])}</td><td>${amps(found.after[line])}</td></tr>`)}
      </tbody>
    </table>
    <button type="button" class="button main" onClick=${() => replug(found)}>Re-plug ${found.moves.length} ${found.moves.length === 1 ? "lamp" : "lamps"}</button>
  `}
`;

/** @param {import("../../state/whole.js").Term} term */
const amps = (term) => `${term.quantity.shown} ${term.quantity.shown_unit}`;
