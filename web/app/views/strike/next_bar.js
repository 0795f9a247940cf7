// Under the thumb: the lamp that is next, and the way back from a slip.
import { day, lastPress, now, press, takeBack } from "../../state/day.js";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { nextOf } from "./next.js";
import { left } from "./words.js";

const DONE = { struck: "struck", out: "out", hot: "found hot", clock: "" };

/** @param {{order: import("./next.js").Lamp[]}} props */
export function NextBar({ order }) {
  const next = nextOf(order, day.value.lamps);
  const last = lastPress(day.value);
  if (!next && !last) return null;
  return html`
    <div class="next-bar" role="group" aria-label="Next">
      ${last &&
      html`<button type="button" class="button" onClick=${takeBack}><${Icon} name="undo" /><span>Undo <span class="next-undone">${last.load} ${DONE[last.what]}</span></span></button>`}
      ${next && html`<${Strike} load=${next.lamp.load} due=${next.due} />`}
    </div>
  `;
}

/** @param {{load: string, due: number | null}} props */
function Strike({ load, due }) {
  const early = due !== null && due > now.value;
  const words = due === null ? "is next" : early ? `in ${left(due, now.value)}` : "now";
  return html`
    <button type="button" class="button main" onClick=${() => press(load, "struck")}><span>${load} struck</span><span class="next-due number">${words}</span></button>
  `;
}
