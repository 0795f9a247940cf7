import { html } from "../../ui/html.js";

/**
 * How a lamp's light comes up over the time of the plan; the words beside it say the same. Warm until full light, cold from then on.
 * @param {{course: import("../../state/strike_shapes.js").Course, load: string, full: number}} props
 */
export function LightStrip({ course, load, full }) {
  const light = course.light[load];
  const end = course.t[course.t.length - 1];
  if (!light || !end) return null;
  const x = (/** @type {number} */ t) => ((100 * t) / end).toFixed(2);
  const start = course.t[Math.max(0, light.findIndex((share) => share > 0) - 1)];
  const rise = course.t.map((t, k) => `L${x(t)} ${(10 - 10 * light[k]).toFixed(2)}`).join("");
  return html`
    <svg class="light-strip" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" focusable="false">
      <rect class="light-strip-track" x="0" y="0" width="100" height="10" />
      <path class="day-warm" d="M${x(start)} 10${rise}L100 10Z" />
      <rect class="day-cold" x=${x(full)} y="0" width=${Math.max(0, 100 - Number(x(full)))} height="10" />
    </svg>
  `;
}
