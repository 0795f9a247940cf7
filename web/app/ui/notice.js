import { dismiss, notice } from "../state/notice.js";
import { html } from "./html.js";
import { Icon } from "./icon.js";

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
