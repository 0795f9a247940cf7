import { phase, statusWords, tryAgain } from "../state/calculator.js";
import { saved } from "../state/keep.js";
import { html } from "./html.js";

/** How the calculator is and whether the rig is saved, always in words. */
export const Status = () => html`
  <div class="status status-${phase.value}">
    <p role="status">
      <span>${statusWords.value}</span>
      ${saved.value.words && html`<span class=${saved.value.safe ? "" : "unsafe"}>${saved.value.words}</span>`}
    </p>
    ${phase.value === "failed" && html`<button type="button" class="button" onClick=${tryAgain}>Try again</button>`}
  </div>
`;
