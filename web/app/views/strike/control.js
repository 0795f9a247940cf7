// The control line: what hangs on it, whether it is built soundly, what is on which address.
import { useSignal } from "@preact/signals";
import { edit, record } from "../../state/rig.js";
import { rework, useAnswer } from "../../state/shots.js";
import { SegmentedButtons } from "../../ui/choice.js";
import { Fields } from "../../ui/field.js";
import { html } from "../../ui/html.js";
import { Cautions, FailureBox, Problems } from "../../ui/lists.js";
import { tied } from "../../ui/term.js";
import { Shape, WORDS } from "../../ui/verdict.js";
import { goTo } from "../shots/names.js";
import { Limits } from "./limits.js";
import { named } from "./words.js";

/** @typedef {import("../../state/strike_shapes.js").ControlLine} ControlLine */

export function ControlPart() {
  const lines = Object.keys(/** @type {object} */ (record.value?.rig.control_lines ?? {}));
  const chosen = useSignal("");
  const line = lines.includes(chosen.value) ? chosen.value : lines[0];
  async function add() {
    const made = /** @type {{rig: object, line: string} | null} */ (/** @type {unknown} */ (await rework("add_control_line", {}, "Add a control line")));
    chosen.value = made?.line ?? "";
  }
  return html`
    ${lines.length > 1 && html`<${SegmentedButtons} name="control-line" value=${line} options=${lines.map((id) => ({ value: id, label: id }))} choose=${(/** @type {string} */ id) => (chosen.value = id)} />`}
    ${line && html`<${Line} key=${line} line=${line} />`}
    <button type="button" class=${line ? "button" : "button main"} onClick=${add}>${line ? "Add another control line" : "Add a control line"}</button>
  `;
}

/** @param {{line: string}} props */
function Line({ line }) {
  const { answer, trouble, stale } = useAnswer("control_line", { line });
  const found = /** @type {ControlLine | null} */ (answer);
  if (trouble) return html`<${FailureBox} failure=${trouble} />`;
  if (!found) return html`<p role="status">Checking the line.</p>`;
  return html`
    <div class="summary summary-${found.verdict} ${stale ? "behind" : ""}">
      <${Shape} verdict=${found.verdict} />
      <p class="headline" role="status">${WORDS[found.verdict]}: control line ${line}</p>
    </div>
    <${Problems} problems=${found.problems} go=${goTo} />
    <${Fields} fields=${found.fields} label="Control line ${line}" />
    <section aria-label="Lamps on it">
      <h3>Lamps on it</h3>
      ${found.receivers.map(
        (lamp) => html`<details key=${lamp.load}>
          <summary>${named(lamp)}${lamp.first !== null && `, slots ${lamp.first} to ${lamp.last}`}</summary>
          <${Fields} fields=${lamp.fields} label="Control of ${lamp.load}" />
        </details>`,
      )}
      <div class="button-row">
        ${found.others.map((lamp) => html`<button key=${lamp.load} type="button" class="button" onClick=${() => edit([{ address: `loads/${lamp.load}/control/line`, text: line }], `Put ${lamp.load} on ${line}`)}>Add ${lamp.load}</button>`)}
      </div>
    </section>
    <${Limits} findings=${found.findings} what="check" />
    <${Cautions} cautions=${found.cautions.map(tied)} />
    <button type="button" class="button" onClick=${() => rework("remove_control_line", { line }, `Remove ${line}`)}>Remove this line</button>
  `;
}
