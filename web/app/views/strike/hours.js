import { day, forget } from "../../state/day.js";
import { html } from "../../ui/html.js";
import { span } from "./words.js";

/** Hours that each lamp has burnt by the marks of this rig. @param {{order: {load: string, name: string}[]}} props */
export function Hours({ order }) {
  const { lamps, marks } = day.value;
  if (!marks.length) return null;
  return html`
    <details class="strike-part">
      <summary>Hours of each lamp</summary>
      <div class="plot-tables" tabindex="0" role="group" aria-label="Hours of each lamp">
      <table class="hours">
        <thead><tr><th scope="col">Lamp</th><th scope="col">Strikes</th><th scope="col">Burnt</th></tr></thead>
        <tbody>
          ${order.map(
            ({ load, name }) => html`<tr>
              <th scope="row"><strong>${load}</strong> ${name}</th>
              <td class="number">${lamps[load]?.strikes ?? 0}</td><td class="number">${span(lamps[load]?.burnt.value ?? 0)}</td>
            </tr>`,
          )}
        </tbody>
      </table>
      </div>
      <p class="note">Hours, minutes and seconds, brought up to date once a minute.</p>
      <button type="button" class="button" onClick=${forget}>Forget all marks and hours</button>
    </details>
  `;
}
