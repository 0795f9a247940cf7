import { html } from "../../ui/html.js";

/** How a lamp's light comes up over the time of the plan; the words beside it say the same. @param {{course: import("../../state/strike_shapes.js").Course, load: string}} props */
export function LightStrip({ course, load }) {
  const light = course.light[load];
  const end = course.t[course.t.length - 1];
  if (!light || !end) return null;
  const points = course.t.map((t, k) => `L${((100 * t) / end).toFixed(2)} ${(10 - 10 * light[k]).toFixed(2)}`).join("");
  const lit = light.findIndex((share) => share > 0);
  return html`
    <svg class="light-strip" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" focusable="false">
      <rect class="light-strip-track" x="0" y="0" width="100" height="10" />
      <path class="light-strip-light" d="M${((100 * course.t[Math.max(0, lit - 1)]) / end).toFixed(2)} 10${points}L100 10Z" />
    </svg>
  `;
}
