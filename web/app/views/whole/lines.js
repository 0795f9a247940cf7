import { html } from "../../ui/html.js";
import { Bar, VerdictTag } from "../../ui/verdict.js";

/** @typedef {import("../../state/whole.js").LineLoad} LineLoad */

/** Every conductor of the supply as a bar against its rating; the neutral has one of its own. @param {{lines: LineLoad[]}} props */
export function Lines({ lines }) {
  if (!lines.length) return html`<p class="waiting">No steady state: see the places marked stop.</p>`;
  return html`
    <section aria-label="Load of each line">
      <h2>Load of each line</h2>
      <ul class="line-loads">
        ${lines.map((line) => html`<li class=${line.conductor === "N" ? "neutral" : ""}><${Line} line=${line} /></li>`)}
      </ul>
    </section>
  `;
}

/** @param {{line: LineLoad}} props */
const Line = ({ line }) => html`
  <p class="line-head">
    <span class="line-name">${line.title}</span>
    <span><span class="figure small-figure">${line.current.quantity.shown}</span> ${line.current.quantity.shown_unit}${line.rating ? ` of ${line.rating.quantity.shown} ${line.rating.quantity.shown_unit}` : ""}</span>
    <${VerdictTag} verdict=${line.verdict} note=${line.rating ? "" : "Rating unknown"} />
  </p>
  ${line.bar && html`<${Bar} ...${line.bar} verdict=${line.verdict} />`}
`;
