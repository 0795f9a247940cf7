// The whole rig: the load of every line, the tree with verdicts carried up, the source, balancing and rig faults.
import { failure, record } from "../../state/rig.js";
import { behind } from "../../state/shown.js";
import { whole } from "../../state/whole.js";
import { FoldedFinding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { FailureBox } from "../../ui/lists.js";
import { Safety } from "../../ui/page.js";
import { EmptyRig } from "../rig/rig.js";
import { goToField } from "../rig/open_link.js";
import { RigTop } from "../rig/top.js";
import { TwoViews } from "../rig/two_views.js";
import { BalancePart } from "./balance.js";
import { Lines } from "./lines.js";
import { RigTree } from "./tree.js";
import { WhatIfPart } from "./what_if.js";

export function WholeView() {
  if (!record.value) return html`<${EmptyRig} />`;
  return html`
    <${RigTop} />
    <main id="main" tabindex="-1" class="whole ${behind.value ? "behind" : ""}">
      <h1 class="hidden">Whole rig</h1>
      <${TwoViews} />
      ${failure.value && html`<${FailureBox} failure=${failure.value} />`}
      <${Body} />
    </main>
  `;
}

function Body() {
  const answer = whole.value;
  if (!answer) return html`<p class="waiting">The figures come as soon as the calculator has started.</p>`;
  return html`
    <div class="whole-tree">
      <${Lines} lines=${answer.lines} />
      <${RigTree} nodes=${answer.tree} />
    </div>
    <div class="whole-side">
      ${answer.source.length > 0 && html`<${Source} findings=${answer.source} />`}
      <${BalancePart} />
      <${WhatIfPart} />
      <${Safety} />
    </div>
  `;
}

/** What is asked of the source when everything burns; a clear answer is a line until it is opened. @param {{findings: import("../../state/whole.js").Finding[]}} props */
const Source = ({ findings }) => html`
  <section aria-label="The source">
    <h2>The source, all lamps burning</h2>
    ${findings.map(
      (finding) => html`<${FoldedFinding} key=${finding.question} finding=${finding} go=${goToField} opened=${finding.verdict === "tight" || finding.verdict === "stop"} />`,
    )}
  </section>
`;
