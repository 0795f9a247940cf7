// The strike screen: the plan, the day with its timers, and what belongs to dims and control.
import { record } from "../../state/rig.js";
import { href } from "../../state/screen.js";
import { html } from "../../ui/html.js";
import { EmptyRig } from "../rig/rig.js";
import { RigTop } from "../rig/top.js";
import { DayView } from "./day.js";
import { DimView } from "./dim_view.js";
import { PlanView } from "./plan.js";

const VIEWS = [
  { name: "", label: "Plan", View: PlanView },
  { name: "day", label: "Day", View: DayView },
  { name: "dim", label: "Dim", View: DimView },
];

/** @param {{rest: string[]}} props */
export function StrikeView({ rest: [name = ""] }) {
  if (!record.value) return html`<${EmptyRig} />`;
  const { View } = VIEWS.find((view) => view.name === name) ?? VIEWS[0];
  return html`
    <${RigTop} />
    <main id="main" tabindex="-1" class="strike">
      <h1 class="hidden">Strike</h1>
      <nav class="two-views" aria-label="Strike, dim and control">
        ${VIEWS.map((view) => html`<a href=${href("strike", view.name)} aria-current=${view.View === View ? "page" : undefined}>${view.label}</a>`)}
      </nav>
      <${View} key=${record.value.id} />
    </main>
  `;
}
