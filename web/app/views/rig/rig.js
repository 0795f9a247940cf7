// The rig screen: one lamp's chain from supply to shutter, and what stands around it.
import { chain } from "../../state/shown.js";
import { check, failure, record } from "../../state/rig.js";
import { FailureBox } from "../../ui/failure.js";
import { Fields } from "../../ui/fields.js";
import { html } from "../../ui/html.js";
import { Problems } from "../../ui/lists.js";
import { Safety } from "../../ui/safety.js";
import { Chain } from "./chain.js";
import { EmptyRig } from "./empty.js";
import { LampList } from "./lamps.js";
import { goToField } from "./open_link.js";
import { Summary } from "./summary.js";
import { RigTop } from "./top.js";

export function RigView() {
  if (!record.value) return html`<${EmptyRig} />`;
  return html`
    <${RigTop} />
    <main id="main" tabindex="-1" class="rig">
      ${failure.value && html`<${FailureBox} failure=${failure.value} />`}
      <${Body} />
    </main>
  `;
}

function Body() {
  const answer = check.value;
  if (!answer) return html`<p class="waiting">The figures come as soon as the calculator has started.</p>`;
  const shown = chain.value;
  const elsewhere = answer.problems.filter((problem) => !shown?.problems.some((other) => other.address === problem.address));
  return html`
    <${LampList} lamps=${answer.lamps} />
    <div class="lamp">
      <${Problems} problems=${elsewhere} go=${goToField} />
      ${shown ? html`<${Summary} chain=${shown} shots=${answer.shots} /><${Chain} chain=${shown} />` : html`<${NoLamp} />`}
      <${RigFields} fields=${answer.rig_fields} />
      <${Safety} />
    </div>
  `;
}

const NoLamp = () => html`<p class="waiting">This rig has no lamp yet. Add one to see its chain.</p>`;

/** @param {{fields: import("../../state/shapes.js").Field[]}} props */
const RigFields = ({ fields }) =>
  fields.length > 0 &&
  html`<details class="rig-fields">
    <summary>About this rig</summary>
    <${Fields} fields=${fields} label="About this rig" />
  </details>`;
