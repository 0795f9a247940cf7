// The rig screen: one lamp's chain from supply to shutter, and what stands around it.
import { openDemo } from "../../state/rigs.js";
import { go, href } from "../../state/screen.js";
import { chain } from "../../state/shown.js";
import { check, failure, record } from "../../state/rig.js";
import { FailureBox, Problems } from "../../ui/lists.js";
import { Fields } from "../../ui/field.js";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { Safety } from "../../ui/page.js";
import { outline } from "../../ui/ribbon.js";
import { Status } from "../../ui/status.js";
import { Chain } from "./chain.js";
import { LampList } from "./lamps.js";
import { goToField } from "./open_link.js";
import { Summary } from "./summary.js";
import { RigTop } from "./top.js";
import { TwoViews } from "./two_views.js";

export function RigView() {
  if (!record.value) return html`<${EmptyRig} />`;
  return html`
    <${RigTop} />
    <main id="main" tabindex="-1" class="rig">
      <${TwoViews} />
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

/** @type {Parameters<typeof outline>[0]} the mark of the app, not an answer */
const MARK = [1, 1, 0.8, 0.78, 0.55, 0.55].map((share, i) => ({ y: i * 40, share, medium: "power" }));

/** The first screen: two ways in. */
export const EmptyRig = () => html`
  <header class="top"><p class="brand">Feed to Frame</p><${Status} /></header>
  <main id="main" tabindex="-1" class="empty">
    <svg class="mark" viewBox="0 0 60 200" preserveAspectRatio="none" aria-hidden="true" focusable="false">
      <defs>
        <linearGradient id="mark-scale" x1="0" x2="0" y1="0" y2="1">
          <stop class="ribbon-warm" offset="0.55" /><stop class="ribbon-cold" offset="0.85" />
        </linearGradient>
      </defs>
      <path d=${outline(MARK, 60)} fill="url(#mark-scale)" />
    </svg>
    <div>
      <h1>From the feed to the frame</h1>
      <p>One chain for each lamp: supply, cable, ballast, head cable, lamp, shutter. See where it is tight before you strike.</p>
      <button type="button" class="button main" onClick=${() => go("add")}><${Icon} name="plus" />Add a lamp</button>
      <button type="button" class="button wide-button" onClick=${openDemo}>Open the demo rig</button>
      <p><a href=${href("rigs")}>My rigs and rig files</a></p>
      <${Safety} />
    </div>
  </main>
`;
