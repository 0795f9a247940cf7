import { asProposed, clearPlan, enter, entered, planStrikes, proposal } from "../../state/strike.js";
import { failure, record } from "../../state/rig.js";
import { href } from "../../state/screen.js";
import { lamps, useAnswer } from "../../state/shots.js";
import { Fields } from "../../ui/field.js";
import { html } from "../../ui/html.js";
import { Cautions, FailureBox, Problems } from "../../ui/lists.js";
import { Safety } from "../../ui/page.js";
import { sentence, tied } from "../../ui/term.js";
import { Shape, WORDS } from "../../ui/verdict.js";
import { goTo } from "../shots/names.js";
import { IfOneDrops } from "./dropped.js";
import { Limits } from "./limits.js";
import { OrderSheet } from "./order_sheet.js";
import { SupplyPlots } from "./supply_plots.js";
import { Timeline } from "./timeline.js";
import { span } from "./words.js";

/** @typedef {import("../../state/strike_shapes.js").Plan} Plan */

export function PlanView() {
  const mine = proposal.value.of === record.value?.id ? proposal.value : null;
  return html`
    <div class="strike-head">
      <h2>Strike plan</h2>
      <p>The order and the gaps in which the lamps strike, so that the supply holds at every moment.</p>
      ${lamps.value.length === 0
        ? html`<p class="waiting">This rig has no lamp yet. <a href=${href("add")}>Add a lamp</a> to plan its strike.</p>`
        : mine?.working
          ? html`<${Working} mine=${mine} />`
          : html`<button type="button" class=${entered.value ? "button" : "button main"} onClick=${planStrikes}>${entered.value ? "Plan the strikes anew" : "Plan the strikes"}</button>`}
    </div>
    ${(mine?.trouble ?? failure.value) && html`<${FailureBox} failure=${mine?.trouble ?? failure.value} />`}
    ${entered.value ? html`<${EnteredPlan} />` : mine?.answer && !mine.answer.order.length && html`<${Body} plan=${mine.answer} stale=${false} />`}
    <${Safety} />
  `;
}

/** How far the search is; everything else answers in between. @param {{mine: import("../../state/strike.js").Proposal}} props */
const Working = ({ mine: { answer, part } }) => html`
  <p role="status">Working out the plan. You can go on working meanwhile.${answer ? ` ${answer.judged} moments judged, ${found(answer)}.` : ""}</p>
  <progress class="strike-progress" max="1" value=${part} aria-label="Part of the search that is done"></progress>
  <button type="button" class="button" onClick=${enter}>${answer?.order.length ? "Stop, and take the plan found so far" : "Stop"}</button>
`;

/** @param {Plan} answer */
const found = ({ order }) => (order.length ? `all lit after ${span(Math.max(...order.map((start) => start.full_at.value)))} so far` : "no plan so far");

/** The plan that stands in the rig, judged as it stands. */
function EnteredPlan() {
  const { answer, trouble, stale } = useAnswer("strike", {});
  const plan = /** @type {Plan | null} */ (answer) ?? (proposal.value.of === record.value?.id ? proposal.value.answer : null);
  if (trouble) return html`<${FailureBox} failure=${trouble} />`;
  if (!plan) return html`<p class="waiting" role="status">The plan is judged as soon as the calculator is ready.</p>`;
  return html`<${Body} plan=${plan} stale=${stale && Boolean(answer)} />`;
}

/** @param {{plan: Plan, stale: boolean}} props */
const Body = ({ plan, stale }) => html`
  ${plan.order.length > 0 && html`<${OrderSheet} plan=${plan} proven=${Boolean(asProposed(plan)?.proven)} />`}
  <div class="strike-plan ${stale ? "behind" : ""}">
    <div class="strike-first">
      <${Verdict} plan=${plan} />
      <${LeftOut} plan=${plan} />
      ${plan.order.length > 0 && html`<${Timeline} plan=${plan} />`}
      ${plan.order.length > 0 &&
      html`<div class="actions">
        <a class="button main" href=${href("strike", "day")}>Go to the day</a>
        <button type="button" class="button" onClick=${() => print()}>Print the order</button>
        <button type="button" class="button" onClick=${() => clearPlan(plan)}>Clear the strike times</button>
      </div>`}
    </div>
    <div class="strike-second">
      <${Limits} findings=${plan.findings} />
      <${SupplyPlots} plan=${plan} />
      <details class="strike-part">
        <summary>What the supply may do at a strike</summary>
        <${Fields} fields=${plan.fields} label="What the supply may do at a strike" />
      </details>
      ${plan.order.length > 0 && html`<${IfOneDrops} lamps=${plan.order} />`}
      <section class="strike-part" aria-label="Mind"><h2>Mind</h2><${Cautions} cautions=${plan.cautions} /></section>
    </div>
  </div>
`;

/** In one glance: can it be done, and how long until all is lit. @param {{plan: Plan}} props */
function Verdict({ plan }) {
  const proposed = asProposed(plan);
  const [headline, ...rest] = plan.says.split(/(?<=[.]) |: (?=.* at \d)/);
  const listed = rest.length > 0 && /\d:\d\d/.test(rest[0]);
  return html`
    <section class="summary summary-${plan.verdict}" aria-label="Verdict">
      <${Shape} verdict=${plan.verdict} />
      <div role="status">
        <p class="headline">${WORDS[plan.verdict]}: ${tied(sentence(headline.replace(/^[A-Z](?=[a-z])/, (letter) => letter.toLowerCase())))}</p>
        ${rest.length > 0 && !listed && html`<p>${tied(sentence(rest.join(" ")))}</p>`}
        ${proposed && html`<p>${proposed.proven ? "The shortest that keeps every limit." : "Keeps every limit; the search was cut short, so a shorter plan may exist."}</p>`}
      </div>
    </section>
  `;
}

/** Lamps that no plan can be made for, and what is missing. @param {{plan: Plan}} props */
const LeftOut = ({ plan }) => html`
  <${Problems} problems=${plan.problems} go=${goTo} />
  ${plan.left_out.map(
    (lamp) => html`<section key=${lamp.load} aria-label="Left out: ${lamp.load}">
      <h3>Not in the plan: ${lamp.load}, ${lamp.name}</h3>
      <${Problems} problems=${lamp.problems} go=${goTo} />
    </section>`,
  )}
`;
