import { openDemo } from "../../state/rigs.js";
import { go, href } from "../../state/route.js";
import { html } from "../../ui/html.js";
import { Icon } from "../../ui/icon.js";
import { outline } from "../../ui/ribbon.js";
import { Safety } from "../../ui/safety.js";
import { Status } from "../../ui/status.js";

/** @type {Parameters<typeof outline>[0]} the mark of the app, not an answer */
const MARK = [1, 1, 0.8, 0.78, 0.55, 0.55].map((share, i) => ({ y: i * 40, share, medium: "power" }));

/** The first screen: two ways in. */
export const EmptyRig = () => html`
  <header class="top"><p class="brand">Feed to Frame</p><${Status} /></header>
  <main id="main" tabindex="-1" class="empty">
    <svg class="mark" viewBox="0 0 60 200" aria-hidden="true" focusable="false">
      <defs>
        <linearGradient id="mark-scale" x1="0" x2="0" y1="0" y2="1">
          <stop class="ribbon-warm" offset="0.55" /><stop class="ribbon-cold" offset="0.85" />
        </linearGradient>
      </defs>
      <path d=${outline(MARK, 60)} fill="url(#mark-scale)" />
    </svg>
    <div>
      <h1>From the feed to the frame</h1>
      <p>One chain for each lamp: supply, cable, ballast, head cable, lamp, shutter. See where it is tight before you strike.</p>
      <button type="button" class="button main" onClick=${() => go("add")}><${Icon} name="plus" />Add a lamp</button>
      <button type="button" class="button wide-button" onClick=${openDemo}>Open the demo rig</button>
      <p><a href=${href("rigs")}>My rigs and rig files</a></p>
      <${Safety} />
    </div>
  </main>
`;
