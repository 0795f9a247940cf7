// What the supply gives while the lamps come up: one plot at a time, with the limit across it.
import { useSignal } from "@preact/signals";
import { SegmentedButtons } from "../../ui/choice.js";
import { html } from "../../ui/html.js";
import { Plot } from "../../ui/plot.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Plan} Plan
 * @typedef {import("../../state/shot_shapes.js").PlotShape} PlotShape
 * @typedef {import("../../state/shot_shapes.js").PlotLine} PlotLine
 */

const KINDS = [
  { value: "current", label: "Current" },
  { value: "power", label: "Power" },
  { value: "voltage", label: "Voltage" },
];
const KILO = 1000;

/** @param {{plan: Plan}} props */
export function SupplyPlots({ plan }) {
  const kind = useSignal("current");
  if (plan.course.t.length < 2) return null;
  const shown = kind.value === "current" ? current(plan) : kind.value === "power" ? power(plan) : voltage(plan);
  return html`
    <section class="strike-plot" aria-label="The supply over time">
      <h2>The supply over time</h2>
      <${SegmentedButtons} name="strike-plot" value=${kind.value} options=${KINDS} choose=${(/** @type {string} */ value) => (kind.value = value)} />
      <${Plot} key=${kind.value} plot=${shown} />
    </section>
  `;
}

/** What the core says of one limit. @param {Plan} plan @param {string[]} questions */
const says = (plan, ...questions) => plan.findings.find((finding) => questions.includes(finding.question))?.says ?? "";

/** A moment that the cables cannot carry has no figure and is not drawn. @param {Plan} plan @param {string} name @param {(number | null)[]} column @param {number} [per] @returns {PlotLine} */
function line(plan, name, column, per = 1) {
  /** @type {[number, number][]} */
  const points = [];
  for (const [k, value] of column.entries()) if (value !== null) points.push([plan.course.t[k], value / per]);
  return { name, points, labels: [] };
}

/** @param {Plan} plan @param {string} id @param {string} title @param {string} words @param {string} unit @param {PlotLine[]} lines @param {PlotShape["levels"]} levels @returns {PlotShape} */
const plot = (plan, id, title, words, unit, lines, levels) => ({
  id, title, says: words, x: { label: "Time", unit: "s", scale: "linear" }, y: { label: title, unit, scale: "linear" },
  lines: lines.filter(({ points }) => points.length), marks: [], bands: [], levels,
});

/** @param {Plan} plan */
function current(plan) {
  const lines = Object.entries(plan.course.lines).map(([name, column]) => line(plan, name, column));
  const limit = plan.limits.line;
  return plot(plan, "strike-current", "Current of each line", says(plan, "strike-carry", "strike-long"), "A", lines, limit === null ? [] : [{ label: "Limit", y: limit }]);
}

/** @param {Plan} plan */
function power(plan) {
  const { apparent, active } = plan.limits;
  const lines = [line(plan, "Apparent power, kVA", plan.course.apparent, KILO), line(plan, "Active power, kW", plan.course.active, KILO)];
  const levels = [
    ...(apparent === null ? [] : [{ label: "Windings", y: apparent / KILO }]),
    ...(active === null ? [] : [{ label: "Engine", y: active / KILO }]),
  ];
  return plot(plan, "strike-power", "Power", says(plan, "strike-kva", "strike-kw"), "kVA, kW", lines, levels);
}

/** @param {Plan} plan */
const voltage = (plan) =>
  plot(plan, "strike-voltage", "Voltage at the outlet", says(plan, "strike-hold", "strike-dip"), "V", Object.entries(plan.course.outlet).map(([name, column]) => line(plan, name, column)), []);
