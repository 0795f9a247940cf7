import { FieldRow } from "./field.js";
import { html } from "./html.js";

/** @typedef {import("../state/shapes.js").Field} Field */

/** Fields, the rarer ones behind "More fields". @param {{fields: Field[], label: string}} props */
export function Fields({ fields, label }) {
  const first = fields.filter((field) => !field.more);
  const more = fields.filter((field) => field.more);
  if (!fields.length) return null;
  const troubled = more.some((field) => field.problem);
  return html`
    <div class="fields" role="group" aria-label=${label}>
      ${first.map((field) => html`<${FieldRow} key=${field.address} field=${field} />`)}
      ${more.length > 0 &&
      html`
        <details class="more" open=${troubled || undefined}>
          <summary>More fields (${more.length})</summary>
          ${more.map((field) => html`<${FieldRow} key=${field.address} field=${field} />`)}
        </details>
      `}
    </div>
  `;
}
