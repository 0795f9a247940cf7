// The order as a numbered line of time: lamp, second, gap, and how its light comes up.
import { edit } from "../../state/rig.js";
import { FieldRow, Fields } from "../../ui/field.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { tied } from "../../ui/term.js";
import { goTo } from "../shots/names.js";
import { Fold } from "./fold.js";
import { LightStrip } from "./light_strip.js";
import { WarmUpPart } from "./warm_up.js";
import { span } from "./words.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Plan} Plan
 * @typedef {import("../../state/strike_shapes.js").Start} Start
 */

/** @param {{plan: Plan}} props */
export function Timeline({ plan }) {
  const end = Math.max(...plan.order.map((start) => start.full_at.value));
  return html`
    <section aria-label="Order of the strikes">
      <div class="strike-line-head">
        <h2>Order and gaps</h2>
        <p>All lit after <strong class="number">${span(end)}</strong></p>
      </div>
      <ol class="strike-line">
        ${plan.order.map((start, k) => html`<li key=${start.load}><${Entry} plan=${plan} start=${start} number=${k + 1} /></li>`)}
      </ol>
    </section>
  `;
}

/** @param {{plan: Plan, start: Start, number: number}} props */
function Entry({ plan, start, number }) {
  const fields = plan.lamp_fields[start.load] ?? [];
  const at = fields.find((field) => field.address === start.address);
  /** @param {number} by */
  const shift = (by) => edit([{ address: start.address, text: `${Math.max(0, start.at.value + by)} s` }], `Strike ${start.load} at another time`);
  return html`
    <details class="strike-entry">
      <summary>
        <span class="strike-number">${number}</span>
        <span class="strike-name"><strong>${start.load}</strong> ${start.name}<span class="note">${tied(start.wait.says)}</span></span>
        <span class="figure strike-at">${start.at.clock}</span>
        <${LightStrip} course=${plan.course} load=${start.load} full=${start.full_at.value} />
      </summary>
      <div class="strike-entry-body">
        ${start.wait.finding && html`<${Finding} finding=${start.wait.finding} go=${goTo} />`}
        <p>Full light at <strong class="number">${start.full_at.clock}</strong>, full colour at <strong class="number">${start.colour_at.clock}</strong>.</p>
        ${at && html`<${FieldRow} field=${at} />`}
        <div class="button-row">
          <button type="button" class="button" disabled=${start.at.value <= 0} onClick=${() => shift(-5)}>5 s sooner</button>
          <button type="button" class="button" onClick=${() => shift(5)}>5 s later</button>
        </div>
        <${Fold} title="How ${start.load} comes up" line="Curve, restrike, and the entries behind them">
          <${WarmUpPart} load=${start.load} arc=${false} whole=${false} />
          <${Fields} fields=${fields.filter((field) => field !== at)} label="How ${start.load} comes up" />
        <//>
      </div>
    </details>
  `;
}
