import { useSignal } from "@preact/signals";
import { go } from "../../state/screen.js";
import { lamps } from "../../state/shots.js";
import { SegmentedButtons } from "../../ui/choice.js";
import { html } from "../../ui/html.js";
import { Entry, LampSelect, valueOf } from "./entries.js";

/** @typedef {import("./recording.js").Entries} Entries */

const LARGEST = 8 * 1024 * 1024;
const KINDS = [
  { value: "samples", label: "Level over time" },
  { value: "frames", label: "Brightness of each frame" },
];
/** @type {Entries} */
const EMPTY = { text: "", kind: "samples", sample_rate: "", exposure_time: "", dark: "", note: "" };

/** @param {{load: string, read: (entries: Entries) => void}} props */
export function RecordingForm({ load, read }) {
  const entries = useSignal(EMPTY);
  const file = useSignal("");
  /** @param {Partial<Entries>} changes */
  const put = (changes) => (entries.value = { ...entries.value, ...changes });
  /** @param {File | undefined} picked */
  const take = async (picked) => {
    if (!picked) return;
    if (picked.size > LARGEST) return void (file.value = `${picked.name} is larger than 8 MB. Export a shorter stretch.`);
    put({ text: await picked.text(), note: entries.value.note || picked.name });
    file.value = `${picked.name}, ${Math.ceil(picked.size / 1024)} KB`;
    read(entries.value);
  };
  const frames = entries.value.kind === "frames";
  /** @param {Event} event */
  const submit = (event) => {
    event.preventDefault();
    read(entries.value);
  };
  return html`
    <form class="shots-form" onSubmit=${submit}>
      <p>A light meter's or an oscilloscope's export: time and level in two columns, or one column of levels. Or the mean brightness of each frame of a fast clip.</p>
      <${LampSelect} lamps=${lamps.value} load=${load} choose=${(/** @type {string} */ id) => go("shots", "recording", id)} label="Which lamp was it?" />
      <fieldset class="field"><legend>What the numbers are</legend>
        <${SegmentedButtons} name="recording-kind" value=${entries.value.kind} options=${KINDS} choose=${(/** @type {string} */ kind) => put({ kind })} />
      </fieldset>
      <div class="actions">
        <label class="button main file-button">Choose a file
          <input type="file" accept=".csv,.txt,.tsv,text/csv,text/plain" onChange=${(/** @type {Event} */ event) => take(/** @type {HTMLInputElement} */ (event.currentTarget).files?.[0])} />
        </label>
      </div>
      ${file.value && html`<p class="note" role="status">${file.value}</p>`}
      <div class="field">
        <label for="recording-text">Or paste the numbers</label>
        <textarea id="recording-text" rows="4" spellcheck=${false} value=${file.value ? "" : entries.value.text}
          onInput=${(/** @type {Event} */ event) => ((file.value = ""), put({ text: valueOf(event) }))}></textarea>
      </div>
      <details open=${frames || undefined}>
        <summary>Rate, dark level, note</summary>
        <div class="fields">
          <${Entry} id="sample-rate" label=${frames ? "Frame rate of the clip" : "Samples a second"} unit="Hz" value=${entries.value.sample_rate} hint="Only where the file has no time column"
            put=${(/** @type {string} */ sample_rate) => put({ sample_rate })} />
          ${frames && html`<${Entry} id="exposure" label="Exposure time of each frame" unit="ms" value=${entries.value.exposure_time} hint="It softens the flicker; the core takes that back" put=${(/** @type {string} */ exposure_time) => put({ exposure_time })} />`}
          <${Entry} id="dark" label="Level in the dark" unit="" value=${entries.value.dark} hint="Read with the lens covered; empty counts as 0" put=${(/** @type {string} */ dark) => put({ dark })} />
          <${Entry} id="note" label="Note to keep with it" unit="" text=${true} value=${entries.value.note} hint="Which head, which setting, which day" put=${(/** @type {string} */ note) => put({ note })} />
        </div>
      </details>
      <button type="submit" class="button" disabled=${!entries.value.text.trim()}>Read it</button>
    </form>
  `;
}
