import { href, route } from "../../state/screen.js";
import { html } from "../../ui/html.js";

/** One rig, seen two ways: the chain of one lamp, or everything at once. */
export function TwoViews() {
  const shown = route.value[0] === "whole" ? "whole" : "rig";
  return html`
    <nav class="two-views" aria-label="How to see the rig">
      <a href=${href("rig")} aria-current=${shown === "rig" ? "page" : undefined}>One lamp</a>
      <a href=${href("whole")} aria-current=${shown === "whole" ? "page" : undefined}>Whole rig</a>
    </nav>
  `;
}
