import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { goTo } from "../shots/names.js";

/** @typedef {import("../../state/shapes.js").Finding} FindingShape */

/** Limits that are broken or near stand open; those kept lie folded with their working. @param {{findings: FindingShape[], what?: string}} props */
export function Limits({ findings, what = "limit" }) {
  const kept = findings.filter((finding) => finding.verdict === "clear");
  const others = findings.filter((finding) => finding.verdict !== "clear");
  return html`
    ${others.length > 0 && html`<section class="strike-limits" aria-label="What stands in the way">${list(others)}</section>`}
    ${kept.length > 0 &&
    html`<details class="strike-part">
      <summary>${kept.length} ${kept.length === 1 ? what : `${what}s`} kept, with working</summary>
      ${list(kept)}
    </details>`}
  `;
}

/** @param {FindingShape[]} findings */
const list = (findings) => findings.map((finding, k) => html`<${Finding} key=${`${finding.question}/${k}`} finding=${finding} go=${goTo} />`);
