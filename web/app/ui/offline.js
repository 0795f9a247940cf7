import { apply, offline, repair, updateReady } from "../offline/register.js";
import { flush } from "../state/keep.js";
import { flushTyping } from "../state/typing.js";
import { html } from "./html.js";
import { sentence } from "./term.js";

async function update() {
  flushTyping();
  await flush();
  await apply();
}

/** A new version waits until it is asked for. */
export const UpdateBanner = () =>
  updateReady.value &&
  html`<div class="banner" role="status">
    <p>A new version is ready. Your rigs stay as they are.</p>
    <button type="button" class="button" onClick=${update}>Update now</button>
  </div>`;

/** The one line to read before leaving the signal. */
export const OfflineLine = () => html`<p class="offline-line" role="status">${sentence(offline.value.words)}</p>`;

/** For when the stored app itself is broken. */
export const Repair = () => html`
  <details class="repair">
    <summary>Repair the app</summary>
    <p>Throws the stored app away and fetches it again. Your rigs are kept. You need a network.</p>
    <button type="button" class="button" onClick=${repair}>Fetch the app again</button>
  </details>
`;
