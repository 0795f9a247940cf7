import { html } from "./html.js";

/** @typedef {import("../state/shapes.js").Verdict} Verdict */

/** @type {Record<Verdict, string>} */
export const WORDS = { clear: "Clear", tight: "Tight", stop: "Stop", unknown: "Unknown" };

/** @type {Record<Verdict, unknown>} */
const SHAPES = {
  clear: html`<circle cx="12" cy="12" r="9.5" />`,
  tight: html`<path d="M12 1.5 23 21.5H1Z" />`,
  stop: html`<path d="M2.5 2.5h19v19h-19Z" />`,
  unknown: html`<path class="hollow" d="M12 2.5 21.5 12 12 21.5 2.5 12Z" />`,
};

/** The shape alone; always shown with its word somewhere beside it. @param {{verdict: Verdict}} props */
export const Shape = ({ verdict }) =>
  html`<svg class="shape shape-${verdict}" viewBox="0 0 24 24" aria-hidden="true" focusable="false">${SHAPES[verdict]}</svg>`;

/** Shape and word. @param {{verdict: Verdict, note?: string}} props */
export const VerdictTag = ({ verdict, note }) =>
  html`<span class="verdict verdict-${verdict}"><${Shape} verdict=${verdict} />${note || WORDS[verdict]}</span>`;

/**
 * How much of a limit is used.
 * @param {{fraction: number, limit: number, verdict: Verdict}} props
 */
export function Bar({ fraction, limit, verdict }) {
  const used = Math.min(1, Math.max(0, fraction));
  const words = fraction >= 1 ? "Beyond the limit" : `${Math.round((fraction / limit) * 100)} % of the limit used`;
  return html`
    <svg class="bar bar-${verdict}" role="img" aria-label=${words} width="100%" height="14">
      <rect class="bar-track" x="0" y="3" width="100%" height="8" />
      <rect class="bar-used" x="0" y="3" width=${`${used * 100}%`} height="8" />
      <rect class="bar-limit" x=${`${Math.min(1, limit) * 100}%`} y="0" width="4" height="14" transform="translate(-4 0)" />
    </svg>
  `;
}
