import { history } from "../../state/history.js";
import { redo, record, undo } from "../../state/rig.js";
import { href, tell } from "../../state/screen.js";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { Status } from "../../ui/status.js";

/** @param {"undo" | "redo"} which */
export function step(which) {
  const label = which === "undo" ? undo() : redo();
  if (label) tell({ text: `${which === "undo" ? "Undone" : "Done again"}: ${label}` });
}

/** The rig's name (the way to all rigs), undo, redo, and how things stand. */
export function RigTop() {
  const { past, future } = history.value;
  return html`
    <header class="top rig-top">
      <a class="rig-name" href=${href("rigs")}><span class="hidden">My rigs, open: </span><span>${record.value?.name || "Unnamed rig"}</span><${Icon} name="down" /></a>
      <button type="button" class="icon-button" aria-label="Undo" disabled=${!past.length} onClick=${() => step("undo")}><${Icon} name="undo" /></button>
      <button type="button" class="icon-button" aria-label="Redo" disabled=${!future.length} onClick=${() => step("redo")}><${Icon} name="redo" /></button>
      <${Status} />
    </header>
  `;
}
