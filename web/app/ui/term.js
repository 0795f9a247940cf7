import { Inline } from "./formula.js";
import { html } from "./html.js";

/**
 * @typedef {import("../state/shapes.js").Term} Term
 * @typedef {import("../state/shapes.js").Quantity} Quantity
 * @typedef {import("../state/shapes.js").Cite} Cite
 */

/** "206.7 V" on one line. @param {Quantity} quantity */
export const worded = ({ shown, shown_unit }) => (shown_unit ? `${shown}\u00a0${shown_unit}` : shown);

/** Keeps a number and its unit on one line in the core's sentences. @param {string} text */
export const tied = (text) => text.replace(/(\d) (?=%|[A-Za-zµΩ°]{1,3}[²³]?(?![A-Za-z]))/g, "$1\u00a0");

/** The core's short texts come without a full stop. @param {string} text */
export const sentence = (text) => (/[.!?:]$/.test(text) ? text : text && `${text}.`);

/** "V_s" with its index set low; braces, as in "V_{min}", may hold a longer one. @param {{text: string}} props */
export function Symbol({ text }) {
  const [stem, index] = text.split("_", 2);
  return index ? html`<i>${stem}</i><sub>${index.replace(/[{}]/g, "")}</sub>` : html`<i>${text}</i>`;
}

/** An estimate looks like one: dashed, with the word. @param {{origin: string, children?: unknown}} props */
export const Origin = ({ origin, children }) =>
  html`<span class=${origin === "typical" || origin === "assumed" ? "chip estimate" : "chip"}>${origin}${children}</span>`;

/** @param {{cite: Cite}} props */
export const Citation = ({ cite }) => html`
  <span class="cite">
    ${[cite.title, cite.locator].filter(Boolean).join(", ")}
    ${cite.how_sure && cite.how_sure !== "first hand" ? ` (${cite.how_sure})` : ""}
  </span>
`;

/** @param {{terms: Term[], caption: string}} props */
export const Terms = ({ terms, caption }) => html`
  <table class="terms" role="table">
    <caption class="hidden">${caption}</caption>
    <thead class="hidden">
      <tr role="row"><th scope="col">Symbol</th><th scope="col">Value</th><th scope="col">What it is and where it comes from</th></tr>
    </thead>
    <tbody>
      ${terms.map(
        (term) => html`
          <tr role="row">
            <td role="cell">${term.symbol_mathml ? html`<${Inline} mathml=${term.symbol_mathml} />` : html`<${Symbol} text=${term.symbol} />`}</td>
            <td class="number" role="cell">${worded(term.quantity)}</td>
            <th scope="row" role="rowheader">
              ${term.name} <${Origin} origin=${term.origin} />
              ${term.note && html`<span class="note">${term.note}</span>`}
              ${term.cite && html`<${Citation} cite=${term.cite} />`}
            </th>
          </tr>
        `,
      )}
    </tbody>
  </table>
`;
