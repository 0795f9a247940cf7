import { phase, statusWords, tryAgain } from "../state/calculator.js";
import { saved } from "../state/keep.js";
import { dismiss, notice } from "../state/screen.js";
import { html } from "./html.js";
import { Icon } from "./icon.js";

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

/** The message above the tabs. Its region is always there, so that it is read out when it fills. */
export function NoticeBar() {
  const { value } = notice;
  const act = value?.act;
  return html`
    <div class="notice-place" role="status">
      ${value &&
      html`<div class="notice">
        <p>${value.text}</p>
        ${act && html`<button type="button" class="button" onClick=${() => (act.run(), dismiss())}>${act.label}</button>`}
        <button type="button" class="icon-button" aria-label="Close this message" onClick=${dismiss}><${Icon} name="close" /></button>
      </div>`}
    </div>
  `;
}
