// All rigs on this device, and the way in and out for rig files.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { asFailure } from "../../state/calculator.js";
import { go, tell } from "../../state/screen.js";
import { record } from "../../state/rig.js";
import { deleteRig, duplicate, newRig, openDemo, openRig, putBack, refresh, rename, rigs } from "../../state/rigs.js";
import { asText, exportRig, importFile } from "../../state/transfer.js";
import { FailureBox } from "../../ui/lists.js";
import { html } from "../../ui/html.js";
import { Page } from "../../ui/page.js";

/**
 * @typedef {import("../../state/shapes.js").RigRecord} RigRecord
 * @typedef {import("../../state/shapes.js").Failure} Failure
 */

export function RigsView() {
  const trouble = useSignal(/** @type {Failure | null} */ (null));
  useEffect(() => {
    refresh().catch(() => {});
  }, []);
  /** @param {() => unknown} act @param {boolean} [leave] */
  const run = (act, leave) => async () => {
    trouble.value = null;
    try {
      await act();
      if (leave) go("rig");
    } catch (error) {
      trouble.value = asFailure(error);
    }
  };
  const kept = rigs.value.filter((rig) => !rig.deleted);
  const gone = rigs.value.filter((rig) => rig.deleted);
  return html`
    <${Page} title="My rigs" back=${{ label: "Back to the rig", go: () => go("rig") }}>
      ${trouble.value && html`<${FailureBox} failure=${trouble.value} />`}
      ${kept.length === 0 && html`<p>No rig is kept on this device yet.</p>`}
      <ul class="rig-list">${kept.map((rig) => html`<${RigItem} key=${rig.id} rig=${rig} run=${run} />`)}</ul>
      <div class="actions">
        <button type="button" class="button main" onClick=${run(newRig, true)}>New rig</button>
        <button type="button" class="button" onClick=${run(openDemo, true)}>Open the demo rig</button>
        <${Import} run=${run} />
      </div>
      <${Deleted} rigs=${gone} run=${run} />
    <//>
  `;
}

/** @typedef {(act: () => unknown, leave?: boolean) => () => Promise<void>} Run */

/** @param {{rig: RigRecord, run: Run}} props */
function RigItem({ rig, run }) {
  const isOpen = rig.id === record.value?.id;
  const name = (isOpen ? record.value?.name : rig.name) || "Unnamed rig";
  return html`
    <li class="rig-item">
      <div>
        <h2>${name}</h2>
        <p class="note">${isOpen ? "Open now" : `Changed ${new Date(rig.saved).toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" })}`}</p>
      </div>
      ${isOpen
        ? html`<button type="button" class="button" onClick=${() => go("rig")}>Go to it<span class="hidden">: ${name}</span></button>`
        : html`<button type="button" class="button" onClick=${run(() => openRig(rig), true)}>Open<span class="hidden"> ${name}</span></button>`}
      <details class="rig-menu">
        <summary><span class="hidden">${name}: </span>Rename, copy, export, delete</summary>
        <${Rename} rig=${rig} name=${name} run=${run} />
        <div class="actions"><${RigActions} rig=${isOpen ? record.value : rig} run=${run} /></div>
      </details>
    </li>
  `;
}

/** @param {{rig: RigRecord, name: string, run: Run}} props */
const Rename = ({ rig, name, run }) => html`
  <div class="field">
    <label for="rename-${rig.id}">Name of the rig</label>
    <input
      id="rename-${rig.id}" class="wide" type="text" autocomplete="off" value=${name}
      onChange=${(/** @type {Event} */ event) => run(() => rename(rig, /** @type {HTMLInputElement} */ (event.currentTarget).value))()}
    />
  </div>
`;

/** @param {{rig: RigRecord, run: Run}} props */
function RigActions({ rig, run }) {
  const exported = async () => tell({ text: await exportRig(rig) });
  const copied = async () => {
    await navigator.clipboard.writeText(asText(rig));
    tell({ text: "Copied as text" });
  };
  return html`
    <button type="button" class="button" onClick=${run(() => duplicate(rig), true)}>Duplicate</button>
    <button type="button" class="button" onClick=${run(exported)}>Export a file</button>
    <button type="button" class="button" onClick=${run(copied)}>Copy as text</button>
    <button type="button" class="button" onClick=${run(() => deleteRig(rig))}>Delete</button>
  `;
}

/** @param {{run: Run}} props */
function Import({ run }) {
  /** @param {Event} event */
  const take = (event) => {
    const input = /** @type {HTMLInputElement} */ (event.currentTarget);
    const file = input.files?.[0];
    input.value = "";
    if (file) run(() => importFile(file), true)();
  };
  return html`
    <label class="button file-button">
      Import a rig file
      <input type="file" accept="application/json,.json,text/plain,.txt" onChange=${take} />
    </label>
  `;
}

/** @param {{rigs: RigRecord[], run: Run}} props */
const Deleted = ({ rigs, run }) =>
  rigs.length > 0 &&
  html`<details class="deleted">
    <summary>Deleted rigs (${rigs.length}), kept for 30 days</summary>
    <ul class="rig-list">
      ${rigs.map(
        (rig) => html`<li class="rig-item"><h2>${rig.name}</h2><button type="button" class="button" onClick=${run(() => putBack(rig))}>Put back<span class="hidden"> ${rig.name}</span></button></li>`,
      )}
    </ul>
  </details>`;
