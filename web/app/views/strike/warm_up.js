// How one lamp comes up after its strike, when it strikes again, and what its age does.
import { useSignal } from "@preact/signals";
import { useAnswer } from "../../state/shots.js";
import { SegmentedButtons } from "../../ui/choice.js";
import { Fields } from "../../ui/field.js";
import { Finding } from "../../ui/finding.js";
import { html } from "../../ui/html.js";
import { Cautions, FailureBox } from "../../ui/lists.js";
import { Plot } from "../../ui/plot.js";
import { Entry } from "../shots/entries.js";
import { goTo } from "../shots/names.js";

/**
 * @typedef {import("../../state/strike_shapes.js").WarmUp} WarmUp
 * @typedef {import("../../state/shot_shapes.js").PlotShape} PlotShape
 * @typedef {"light" | "power" | "current"} Kind
 */

const KINDS = [
  { value: "light", label: "Light" },
  { value: "power", label: "Power" },
  { value: "current", label: "Current" },
];
const DRAWN = {
  light: { title: "Light after the strike", unit: "%", per: 0.01 },
  power: { title: "Power from the supply", unit: "kW", per: 1000 },
  current: { title: "Current from the supply", unit: "A", per: 1 },
};

/** `arc`: the lamp has an arc, which ages; `whole`: its entries and cautions stand nowhere else. @param {{load: string, arc: boolean, whole?: boolean}} props */
export function WarmUpPart({ load, arc, whole = true }) {
  const aged = useSignal("");
  const { answer, trouble } = useAnswer("warm_up", { load, ...(aged.value.trim() ? { arc_voltage: aged.value } : {}) }, `warm-up of ${load}`);
  const warm = /** @type {WarmUp | null} */ (answer);
  const age = warm?.findings.filter(({ question }) => question === "age") ?? [];
  return html`
    ${warm && html`<${Curve} warm=${warm} />`}
    ${warm?.findings.filter((finding) => !age.includes(finding)).map((finding) => html`<${Finding} key=${finding.question} finding=${finding} go=${goTo} />`)}
    ${arc &&
    html`
      <h3>What age does</h3>
      <p>The arc's voltage rises as a lamp ages. Read it off the ballast's display; a meter at the head meets the striking voltage, which kills.</p>
      <div class="fields"><${Entry} id="arc-now-${load}" label="Arc voltage now" unit="V" value=${aged.value} put=${(/** @type {string} */ text) => (aged.value = text)} /></div>
    `}
    ${trouble && html`<${FailureBox} failure=${trouble} />`}
    ${age.map((finding) => html`<${Finding} key="age" finding=${finding} go=${goTo} />`)}
    ${whole && warm && html`<${Fields} fields=${warm.fields} label="How ${load} comes up" /><${Cautions} cautions=${warm.cautions} />`}
  `;
}

/** @param {{warm: WarmUp}} props */
function Curve({ warm }) {
  const kind = useSignal(/** @type {Kind} */ ("light"));
  return html`
    <${SegmentedButtons} name="warm-kind" value=${kind.value} options=${KINDS} choose=${(/** @type {Kind} */ value) => (kind.value = value)} />
    <${Plot} key=${kind.value} plot=${drawn(warm, kind.value)} />
  `;
}

/** @param {WarmUp} warm @param {Kind} kind @returns {PlotShape} */
function drawn({ curve, findings }, kind) {
  const { title, unit, per } = DRAWN[kind];
  /** @type {[number, number][]} */
  const points = curve.t.map((t, k) => [t, curve[kind][k] / per]);
  return {
    id: `warm-${kind}`, title, says: findings.find(({ question }) => question === "warm-up")?.says ?? "",
    x: { label: "Time since the strike", unit: "s", scale: "linear" }, y: { label: title, unit, scale: "linear" },
    lines: [{ name: title, points, labels: [] }], marks: [], bands: [], levels: [],
  };
}
