import { href, route } from "../state/screen.js";
import { html } from "./html.js";
import { Icon } from "./icon.js";

/** @type {{name: string, label: string, icon: "rig" | "shots" | "strike" | "drills" | "more", holds: string[]}[]} a tab and the screens it stands for */
const TABS = [
  { name: "rig", label: "Rig", icon: "rig", holds: ["rig", "whole", "add", "rigs"] },
  { name: "shots", label: "Shots", icon: "shots", holds: ["shots"] },
  { name: "strike", label: "Strike", icon: "strike", holds: ["strike"] },
  { name: "drills", label: "Drills", icon: "drills", holds: ["drills"] },
  { name: "more", label: "More", icon: "more", holds: ["more"] },
];

export function Tabs() {
  const screen = route.value[0] ?? "rig";
  return html`
    <nav class="tabs" aria-label="Screens">
      ${TABS.map(
        (tab) => html`
          <a href=${href(tab.name)} aria-current=${tab.holds.includes(screen) ? "page" : undefined}>
            <${Icon} name=${tab.icon} />${tab.label}
          </a>
        `,
      )}
    </nav>
  `;
}
