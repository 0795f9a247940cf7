import { elsewhere, takeOver } from "../state/hold.js";
import { html } from "./html.js";

/** The screens that show the open rig. While another tab holds it, they can be read and not used. */
const OF_THE_RIG = new Set(["rig", "whole", "add", "shots", "strike"]);

/** @param {string} screen */
export const onlyShown = (screen) => elsewhere.value && OF_THE_RIG.has(screen);

/** Two tabs that change one rig would undo each other's work without a word. */
export const Elsewhere = () => html`
  <div class="banner" role="status">
    <p>This rig is open in another tab of this device. Here it is only shown, and follows what is saved there.</p>
    <button type="button" class="button" onClick=${takeOver}>Take over here</button>
  </div>
`;
