// Measured light: a recording is read by the core, judged for people and for the shots apart, and kept as a lamp's light.
import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { ask, asFailure } from "../../state/calculator.js";
import { edit, record } from "../../state/rig.js";
import { go, tell } from "../../state/screen.js";
import { lamps } from "../../state/shots.js";
import { html } from "../../ui/html.js";
import { FailureBox } from "../../ui/lists.js";
import { RecordingAnswer } from "./recording_answer.js";
import { RecordingForm } from "./recording_form.js";
import { ShotsTop } from "./top.js";

/**
 * @typedef {import("../../state/shot_shapes.js").Recording} Recording
 * @typedef {import("../../state/shapes.js").Failure} Failure
 * @typedef {{text: string, kind: string, sample_rate: string, exposure_time: string, dark: string, note: string}} Entries
 * @typedef {{load: string, reading: Recording}} Read
 */

/** @param {{id: string}} props */
export function RecordingView({ id }) {
  const load = lamps.value.some((lamp) => lamp.id === id) ? id : (lamps.value[0]?.id ?? "");
  const done = useSignal(/** @type {Read | null} */ (null));
  const trouble = useSignal(/** @type {Failure | null} */ (null));
  /** @param {Entries} entries */
  const read = async (entries) => {
    try {
      done.value = { load, reading: await ask("recording", { ...entries, rig: record.value?.rig, load }) };
      trouble.value = null;
    } catch (error) {
      done.value = null;
      trouble.value = asFailure(error);
    }
  };
  const result = useRef(/** @type {HTMLDivElement | null} */ (null));
  useEffect(() => result.current?.scrollIntoView({ block: "start" }), [done.value, trouble.value]);
  const found = done.value?.load === load ? done.value.reading : null;
  return html`
    <${ShotsTop} title="Read a recording" back=${["shots"]} />
    <main id="main" tabindex="-1" class="shots-page">
      <${RecordingForm} load=${load} read=${read} />
      <div role="status" class="hidden">${found ? found.says : ""}</div>
      ${(found || trouble.value) && html`<div ref=${result} class="shots-result"></div>`}
      ${trouble.value && html`<${FailureBox} failure=${trouble.value} />`}
      ${found && html`<${RecordingAnswer} found=${found} keep=${() => keep(found, load)} />`}
    </main>
  `;
}

/** @param {Recording} found @param {string} load */
function keep(found, load) {
  const name = lamps.value.find((lamp) => lamp.id === load)?.name ?? load;
  edit(found.changes, `Keep the recording of ${name}`);
  tell({ text: `Kept as the light of ${name}. Undo takes it back.` });
  go("shots");
}
