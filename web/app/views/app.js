import { useEffect } from "preact/hooks";
import { route } from "../state/screen.js";
import { html } from "../ui/html.js";
import { NoticeBar } from "../ui/status.js";
import { Tabs } from "../ui/tabs.js";
import { Elsewhere, onlyShown } from "../ui/elsewhere.js";
import { UpdateBanner } from "../ui/offline.js";
import { AddView } from "./add/add.js";
import { DrillsView } from "./drills/drills.js";
import { MoreView } from "./more/more.js";
import { RigView } from "./rig/rig.js";
import { RigsView } from "./rigs/rigs.js";
import { ShotsView } from "./shots/shots.js";
import { StrikeView } from "./strike/strike.js";
import { WholeView } from "./whole/whole.js";

/** @type {Record<string, {title: string, View: (props: {rest: string[]}) => unknown}>} */
const SCREENS = {
  rig: { title: "Rig", View: RigView },
  whole: { title: "Whole rig", View: WholeView },
  add: { title: "Add a lamp", View: AddView },
  rigs: { title: "My rigs", View: RigsView },
  shots: { title: "Shots", View: ShotsView },
  strike: { title: "Strike", View: StrikeView },
  drills: { title: "Drills", View: DrillsView },
  more: { title: "More", View: MoreView },
};

export function App() {
  const [name = "rig", ...rest] = route.value;
  const { title, View } = SCREENS[name] ?? SCREENS.rig;
  useEffect(() => {
    document.title = `${title} · Feed to Frame`;
  }, [title]);
  return html`
    <a class="skip" href="#main" onClick=${skip}>Skip to the screen</a>
    <${UpdateBanner} />
    ${onlyShown(name) && html`<${Elsewhere} />`}
    <div class="screen" inert=${onlyShown(name)}><${View} rest=${rest} /></div>
    <${NoticeBar} />
    <${Tabs} />
  `;
}

/** The address holds the screen, so the jump is made by hand. @param {Event} event */
function skip(event) {
  event.preventDefault();
  document.querySelector("main")?.focus();
}
