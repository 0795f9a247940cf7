import { useSignal } from "@preact/signals";
import { choose, record } from "../../state/rig.js";
import { go } from "../../state/screen.js";
import { adviceBehind } from "../../state/shown.js";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { Shape, VerdictTag, WORDS } from "../../ui/verdict.js";

/** @typedef {import("../../state/shapes.js").LampLine} LampLine */

/** All lamps with their verdicts, to switch between them; and the way to add one. While somebody types, the verdicts of the others are those from before. @param {{lamps: LampLine[]}} props */
export function LampList({ lamps }) {
  const open = useSignal(false);
  const current = lamps.find((lamp) => lamp.id === record.value?.load) ?? lamps[0];
  return html`
    <nav class="lamps ${open.value ? "is-open" : ""} ${adviceBehind.value ? "behind" : ""}" aria-label="Lamps of this rig">
      <button type="button" class="lamps-switch" aria-expanded=${open.value} onClick=${() => (open.value = !open.value)}>
        <span>${lamps.length} ${lamps.length === 1 ? "lamp" : "lamps"}</span> <${Worst} lamps=${lamps} /> <${Icon} name="down" />
      </button>
      <ul>
        ${lamps.map((lamp) => html`<li><${LampButton} lamp=${lamp} current=${lamp.id === current?.id} close=${() => (open.value = false)} /></li>`)}
      </ul>
      <button type="button" class="button add-lamp" onClick=${() => go("add")}><${Icon} name="plus" /><span>Add a lamp</span></button>
    </nav>
  `;
}

/** How many lamps have which verdict. @param {{lamps: LampLine[]}} props */
function Worst({ lamps }) {
  const order = /** @type {const} */ (["stop", "unknown", "tight", "clear"]);
  return html`<span class="tally">
    ${order.map((verdict) => {
      const count = lamps.filter((lamp) => lamp.verdict === verdict).length;
      return count > 0 && html`<span><${Shape} verdict=${verdict} />${count} <span class="hidden">${WORDS[verdict]}</span></span>`;
    })}
  </span>`;
}

/** @param {{lamp: LampLine, current: boolean, close: () => void}} props */
const LampButton = ({ lamp, current, close }) => html`
  <button type="button" class="lamp-button" aria-current=${current ? "true" : undefined} onClick=${() => (choose({ load: lamp.id }), close())}>
    <span class="lamp-name">${lamp.name}</span><${VerdictTag} verdict=${lamp.verdict} />
  </button>
`;
