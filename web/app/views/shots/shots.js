// The shots screen: the day's list against the lamps, one shot, and what belongs to light on camera.
import { failure, record } from "../../state/rig.js";
import { roomy, useAnswer } from "../../state/shots.js";
import { html } from "../../ui/html.js";
import { FailureBox } from "../../ui/lists.js";
import { EmptyRig } from "../rig/rig.js";
import { ExposureView } from "./exposure.js";
import { Overview } from "./overview.js";
import { RecordingView } from "./recording.js";
import { ShotPanel } from "./shot.js";
import { SheetView } from "./sheet.js";
import { SweepView } from "./sweep.js";
import { ShotsTop } from "./top.js";
import { shotName, worstShot } from "./names.js";

/** @typedef {import("../../state/shot_shapes.js").Shots} Shots */

/** @type {Record<string, (props: {id: string}) => unknown>} */
const PAGES = { exposure: ExposureView, recording: RecordingView, sheet: SheetView, sweep: SweepView };

/** @param {{rest: string[]}} props */
export function ShotsView({ rest: [page = "", id = "", load = ""] }) {
  if (!record.value) return html`<${EmptyRig} />`;
  const Page = PAGES[page];
  return Page ? html`<${Page} key=${page} id=${id} />` : html`<${ListAndShot} shot=${page === "shot" ? id : ""} load=${load} />`;
}

/** On a phone the list or the shot, with room both. @param {{shot: string, load: string}} props */
function ListAndShot({ shot, load }) {
  const { answer, trouble, stale } = useAnswer("shots", {});
  const shots = /** @type {Shots | null} */ (answer);
  const open = shots?.shots.find((row) => row.id === shot);
  const row = open ?? (roomy.value && shots ? worstShot(shots.shots) : undefined);
  const alone = open && !roomy.value;
  return html`
    <${ShotsTop} title=${alone ? shotName(open) : "Shots"} back=${alone ? ["shots"] : undefined} />
    <main id="main" tabindex="-1" class="shots">
      ${(trouble ?? failure.value) && html`<${FailureBox} failure=${trouble ?? failure.value} />`}
      ${!shots && !trouble && html`<p class="waiting" role="status">The verdicts come as soon as the calculator has started.</p>`}
      ${shots && !alone && html`<${Overview} shots=${shots} stale=${stale} open=${row?.id ?? ""} load=${load} />`}
      ${shots && row && html`<${ShotPanel} key=${row.id} row=${row} lamps=${shots.lamps} load=${load} heading=${!alone} />`}
    </main>
  `;
}
