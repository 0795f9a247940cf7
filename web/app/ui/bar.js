import { html } from "./html.js";

/** @typedef {import("../state/shapes.js").Verdict} Verdict */

/**
 * How much of a limit is used.
 * @param {{fraction: number, limit: number, verdict: Verdict}} props
 */
export function Bar({ fraction, limit, verdict }) {
  const used = Math.min(1, Math.max(0, fraction));
  const per_cent = limit > 0 ? Math.round((fraction / limit) * 100) : 0;
  return html`
    <svg class="bar bar-${verdict}" role="img" aria-label=${`${per_cent} % of the limit used`} width="100%" height="14">
      <rect class="bar-track" x="0" y="3" width="100%" height="8" />
      <rect class="bar-used" x="0" y="3" width=${`${used * 100}%`} height="8" />
      <rect class="bar-limit" x=${`${Math.min(1, limit) * 100}%`} y="0" width="4" height="14" transform="translate(-4 0)" />
    </svg>
  `;
}
