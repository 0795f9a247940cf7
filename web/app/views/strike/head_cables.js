import { useAnswer } from "../../state/shots.js";
import { edit } from "../../state/rig.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { FailureBox } from "../../ui/lists.js";
import { worded } from "../../ui/term.js";
import { goTo } from "../shots/names.js";

/** @typedef {import("../../state/strike_shapes.js").HeadCables} HeadCables */

/** How long each size may be before the lamp loses power. @param {{load: string}} props */
export function HeadCablePart({ load }) {
  const { answer, trouble } = useAnswer("head_cables", { load });
  const found = /** @type {HeadCables | null} */ (answer);
  if (trouble) return html`<${FailureBox} failure=${trouble} />`;
  if (!found) return html`<p role="status">Working out the lengths.</p>`;
  return html`
    <p>Longest head cable that leaves <strong class="number">${worded(found.share)}</strong> of the lamp's power.</p>
    <ul class="hits">
      ${found.sizes.map(
        (size) => html`<li key=${size.size}>
          <strong class="number">${size.size}</strong>
          <span>${size.length ? html`up to <span class="number">${worded(size.length.quantity)}</span>` : "too thin at any length"}${size.rating && html`<span class="note">, may carry ${worded(size.rating.quantity)}, arc ${worded(size.current.quantity)}</span>`}</span>
          <button type="button" class="button" onClick=${() => edit(size.changes, `Head cable of ${load}: ${size.size}`)}>Use<span class="hidden"> ${size.size}</span></button>
        </li>`,
      )}
    </ul>
    <${Finding} finding=${found.finding} go=${goTo} />
  `;
}
