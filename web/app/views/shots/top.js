import { history } from "../../state/history.js";
import { go } from "../../state/screen.js";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { Status } from "../../ui/status.js";
import { step } from "../rig/top.js";

/** The top of a screen below the shot list: the way back, a heading, undo and redo. @param {{title: string, back?: string[]}} props */
export function ShotsTop({ title, back }) {
  const { past, future } = history.value;
  return html`
    <header class="top rig-top">
      ${back && html`<button type="button" class="icon-button" aria-label="Back to the shots" onClick=${() => go(...back)}><${Icon} name="back" /></button>`}
      <h1>${title}</h1>
      <button type="button" class="icon-button" aria-label="Undo" disabled=${!past.length} onClick=${() => step("undo")}><${Icon} name="undo" /></button>
      <button type="button" class="icon-button" aria-label="Redo" disabled=${!future.length} onClick=${() => step("redo")}><${Icon} name="redo" /></button>
      <${Status} />
    </header>
  `;
}
