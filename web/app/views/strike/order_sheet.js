// The order of the strikes on paper, for the crew: what to strike when, room to write when it was, and what to mind.
import { record } from "../../state/rig.js";
import { html } from "../../ui/html.js";
import { sentence, tied } from "../../ui/term.js";
import { WORDS } from "../../ui/verdict.js";
import { span } from "./words.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Plan} Plan
 * @typedef {import("../../state/strike_shapes.js").Start} Start
 */

/** Shown in print only, in place of the screen. @param {{plan: Plan, proven: boolean}} props */
export function OrderSheet({ plan, proven }) {
  const end = Math.max(...plan.order.map((start) => start.full_at.value));
  return html`
    <section class="order-sheet">
      <h2>Strike order: ${record.value?.name || "unnamed rig"}</h2>
      <p>
        <strong>${WORDS[plan.verdict]}.</strong> All lit ${span(end)} after the first strike${proven ? ", the shortest that keeps every limit" : ""}. At least ${plan.gap.clock} between two strikes.
        Printed ${new Date().toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" })}.
      </p>
      ${plan.problems.length + plan.left_out.length > 0 && html`<p><strong>Not judged: ${plan.left_out.map(({ load }) => load).join(", ") || "some entries"}. See the app.</strong></p>`}
      <table>
        <thead><tr>${["", "Lamp", "Feed", "Strike at", "Full light", "Full colour", "Struck", "Out"].map((words) => html`<th scope="col">${words}</th>`)}</tr></thead>
        <tbody>${plan.order.map((start, k) => html`<${Row} key=${start.load} start=${start} number=${k + 1} />`)}</tbody>
      </table>
      <h3>If a lamp goes out</h3>
      <ul>${again(plan).map(([words, loads]) => html`<li>${loads.join(", ")}: ${tied(sentence(words))}</li>`)}</ul>
      <h3>Limits, at their worst moment</h3>
      <ul>${plan.findings.map((finding) => html`<li>${WORDS[finding.verdict]}: ${tied(sentence(finding.says))}</li>`)}</ul>
      <h3>Mind</h3>
      <ul>${plan.cautions.map((text) => html`<li>${text}</li>`)}</ul>
    </section>
  `;
}

/** @param {{start: Start, number: number}} props */
const Row = ({ start, number }) => html`
  <tr>
    <td>${number}</td>
    <td><strong>${start.load}</strong> ${start.name}</td>
    <td>${start.feed}</td>
    <td class="sheet-at">${start.at.clock}</td>
    <td>${start.full_at.clock}</td>
    <td>${start.colour_at.clock}</td>
    <td class="sheet-blank"></td>
    <td class="sheet-blank"></td>
  </tr>
`;

/** Lamps with the same words stand together. @param {Plan} plan @returns {[string, string[]][]} */
function again(plan) {
  const found = /** @type {Map<string, string[]>} */ (new Map());
  for (const { again: words, load } of plan.order) found.set(words, [...(found.get(words) ?? []), load]);
  return [...found];
}
