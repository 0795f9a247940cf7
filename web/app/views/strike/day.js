// The day: a row of running timers, one press for each thing that happens.
import { useEffect } from "preact/hooks";
import { letGo, stayOn } from "../../state/awake.js";
import { day, now, refresh, unsaved, watchClock } from "../../state/day.js";
import { record } from "../../state/rig.js";
import { href } from "../../state/screen.js";
import { lamps, useAnswer } from "../../state/shots.js";
import { entered } from "../../state/strike.js";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { Cautions } from "../../ui/lists.js";
import { AwakePart } from "./awake_part.js";
import { Hours } from "./hours.js";
import { LampRow } from "./lamp_row.js";
import { NextBar } from "./next_bar.js";
import { inOrder } from "./next.js";
import { span, when } from "./words.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Plan} Plan
 * @typedef {import("../../state/strike_shapes.js").WarmUp} WarmUp
 */

export function DayView() {
  useEffect(watchClock, []);
  useEffect(() => void refresh(), [record.value?.rig]);
  useEffect(() => {
    stayOn();
    document.addEventListener("visibilitychange", stayOn);
    return () => (document.removeEventListener("visibilitychange", stayOn), void letGo());
  }, []);
  if (!lamps.value.length) return html`<p class="waiting">This rig has no lamp yet. <a href=${href("add")}>Add a lamp</a> to time it.</p>`;
  return entered.value ? html`<${WithPlan} />` : html`<${WithoutPlan} load=${lamps.value[0].id} />`;
}

function WithPlan() {
  const { answer } = useAnswer("strike", {});
  const plan = /** @type {Plan | null} */ (answer);
  return html`<${Rows} plan=${plan} cautions=${plan?.cautions ?? []} />`;
}

/** @param {{load: string}} props */
function WithoutPlan({ load }) {
  const { answer } = useAnswer("warm_up", { load });
  const warm = /** @type {WarmUp | null} */ (answer);
  return html`
    <p>No plan is entered: strike one lamp after the other, with gaps. <a href=${href("strike")}>Plan the strikes</a></p>
    <${Rows} plan=${null} cautions=${warm?.cautions ?? []} />
  `;
}

/** @param {{plan: Plan | null, cautions: string[]}} props */
function Rows({ plan, cautions }) {
  const order = inOrder(lamps.value, plan);
  const lit = order.filter(({ load }) => ["running up", "full"].includes(day.value.lamps[load]?.state ?? "")).length;
  return html`
    <div class="day-head">
      <h2>On the day</h2>
      <p class="number">${lit} of ${order.length} burning</p>
    </div>
    <${Trouble} />
    <${Cautions} cautions=${cautions.slice(0, 1)} />
    <ol class="day-rows" aria-label="Lamps">
      ${order.map((lamp) => html`<li key=${lamp.load}><${LampRow} lamp=${lamp} timer=${day.value.lamps[lamp.load]} /></li>`)}
    </ol>
    <${NextBar} order=${order} />
    <${AwakePart} />
    <${Hours} order=${order} />
    ${cautions.length > 1 && html`<section class="strike-part" aria-label="Mind"><h2>Mind</h2><${Cautions} cautions=${cautions.slice(1)} /></section>`}
  `;
}

/** What makes the timers less sure than they look is said, not hidden. */
function Trouble() {
  const back = day.value.marks.filter((mark) => mark.what === "clock");
  const unsure = Object.values(day.value.lamps).some((lamp) => lamp.unsure);
  const lines = [
    ...back.map((mark) => `The phone's clock was set back by ${span(mark.by ?? 0)}, seen at ${when(mark.at, now.value)}. The timers go on through it.`),
    ...(unsure ? ["The clock was set back while nobody looked: the times are at least these."] : []),
    ...(unsaved.value ? ["The last press could not be kept on this device: it is lost when the app closes."] : []),
  ];
  return html`<div role="status" class="day-trouble">${lines.map((text) => html`<p key=${text}><${Icon} name="caution" /><span>${text}</span></p>`)}</div>`;
}
