// The short lists under an answer: what to mind, what to do about it, what is wrong.
import { edit } from "../state/rig.js";
import { fieldId } from "./field_text.js";
import { html } from "./html.js";
import { Icon } from "./icon.js";
import { sentence, tied } from "./term.js";

/**
 * @typedef {import("../state/shapes.js").Remedy} Remedy
 * @typedef {import("../state/shapes.js").Problem} Problem
 */

/** @param {{cautions: string[]}} props */
export const Cautions = ({ cautions }) =>
  cautions.length > 0 &&
  html`<ul class="cautions" aria-label="Cautions">
    ${cautions.map((text) => html`<li><${Icon} name="caution" /><span>${sentence(text)}</span></li>`)}
  </ul>`;

/** Each way out is a button that makes its changes; one that changes nothing by itself is a line of text.
 * Those of an earlier answer stay in their place until the new ones come, but cannot be taken.
 * @param {{remedies: Remedy[], earlier?: boolean}} props */
export const Remedies = ({ remedies, earlier = false }) =>
  remedies.length > 0 &&
  html`<ul class="remedies ${earlier ? "earlier-advice" : ""}" aria-label="What to do about it" aria-busy=${earlier}>
    ${remedies.map((remedy) => html`<li><${RemedyItem} remedy=${remedy} earlier=${earlier} /></li>`)}
  </ul>`;

/** @param {{remedy: Remedy, earlier: boolean}} props */
function RemedyItem({ remedy, earlier }) {
  if (!remedy.changes.length) return html`<p>${tied(remedy.text)}</p>`;
  return html`<button type="button" class="remedy" aria-disabled=${earlier} onClick=${() => earlier || edit(remedy.changes, remedy.text)}>
    <span>${tied(remedy.text)}</span><span class="remedy-do">Use</span>
  </button>`;
}

/** All problems at once, each leading to its field. @param {{problems: Problem[], go?: (address: string) => void}} props */
export const Problems = ({ problems, go }) =>
  problems.length > 0 &&
  html`<ul class="problems" aria-label="Problems">
    ${problems.map((problem) => html`<li><${ProblemItem} problem=${problem} go=${go} /></li>`)}
  </ul>`;

/** @param {{problem: Problem, go?: (address: string) => void}} props */
function ProblemItem({ problem, go }) {
  const text = html`<strong>${sentence(problem.message)}</strong> ${sentence(problem.way_out)}`;
  if (!problem.address || !go) return html`<p>${text}</p>`;
  return html`<button type="button" class="text-button" onClick=${() => go(problem.address)}>${text}</button>`;
}

/** Brings a field of an open link into view. @param {string} address */
export function focusField(address) {
  requestAnimationFrame(() => {
    const field = document.getElementById(fieldId(address));
    field?.closest("details")?.setAttribute("open", "");
    field?.focus();
  });
}

/** The core could not answer. @param {{failure: import("../state/shapes.js").Failure}} props */
export const FailureBox = ({ failure }) => html`
  <div class="failure" role="alert">
    <p><strong>${sentence(failure.message)}</strong> ${sentence(failure.hint)}</p>
    <${Problems} problems=${failure.problems.filter((problem) => problem.message !== failure.message)} />
    ${failure.detail &&
    html`<details><summary>Details for the developers</summary><pre tabindex="0">${failure.detail}</pre></details>`}
  </div>
`;
