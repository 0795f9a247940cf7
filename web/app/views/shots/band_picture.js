import { html } from "../../ui/html.js";
import { worded } from "../../ui/term.js";

/** @typedef {import("../../state/shapes.js").Finding} Finding */

const MOST = 60; // bands; more than these are finer than the drawing

/** The bands that a sensor read row by row puts into the picture: how many, as the core counts them. @param {{finding: Finding}} props */
export function BandPicture({ finding }) {
  const bands = finding.steps.find((step) => step.law.endsWith(".bands"))?.result;
  if (!bands || finding.verdict === "clear" || bands.quantity.value < 0.5 || bands.quantity.value > MOST) return null;
  const height = 180 / bands.quantity.value;
  const roll = finding.steps.find((step) => step.law.endsWith(".roll"))?.result;
  const says = `${worded(bands.quantity)} light pulses pass while the sensor is read${roll ? `; they roll by ${roll.quantity.shown} ${roll.name}` : ""}`;
  return html`
    <figure class="plot shots-bands">
      <figcaption><h3>Bands in the picture</h3><p>${says}. Their strength here is not to scale.</p></figcaption>
      <svg class="plot-drawing" role="img" aria-label="A picture with bands across it: ${says}" viewBox="0 0 320 180">
        <defs>
          <linearGradient id="shots-band" gradientUnits="userSpaceOnUse" spreadMethod="repeat" x1="0" x2="0" y1="0" y2=${height}>
            <stop class="shots-bright" offset="0" /><stop class="shots-dim" offset="0.5" /><stop class="shots-bright" offset="1" />
          </linearGradient>
        </defs>
        <rect x="0" y="0" width="320" height="180" fill="url(#shots-band)" />
        <rect class="shots-picture-edge" x="1" y="1" width="318" height="178" />
      </svg>
    </figure>
  `;
}
