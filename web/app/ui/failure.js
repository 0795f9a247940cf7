import { html } from "./html.js";
import { Problems } from "./lists.js";

/** @param {{failure: import("../state/shapes.js").Failure}} props */
export const FailureBox = ({ failure }) => html`
  <div class="failure" role="alert">
    <p><strong>${failure.message}</strong> ${failure.hint}</p>
    <${Problems} problems=${failure.problems} />
    ${failure.detail &&
    html`<details><summary>Details for the developers</summary><pre tabindex="0">${failure.detail}</pre></details>`}
  </div>
`;
