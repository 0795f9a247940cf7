import { signal } from "@preact/signals";
import { day, now, press } from "../../state/day.js";
import { html } from "../../ui/html.js";
import { DroppedPart } from "./dropped.js";
import { alsoAt, shownAt } from "./timer.js";
import { gone, span, when } from "./words.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Timer} Timer
 * @typedef {import("./timer.js").Shown} Shown
 */

/** The lamp whose way back is open; one at a time. */
const asking = signal("");

/** @param {{lamp: import("./next.js").Lamp, timer: Timer | undefined}} props */
export function LampRow({ lamp: { load, name, at }, timer }) {
  const shown = shownAt(timer, now.value);
  const dark = timer?.since && (timer.state === "cooling" || timer.state === "cold");
  return html`
    <section class="day-row" aria-label="${load}, ${name}">
      <div class="day-what">
        <p class="day-name"><strong>${load}</strong> ${name}</p>
        <p class="day-state"><${Lit} timer=${timer} />${shown.word}</p>
      </div>
      ${shown.figure && html`<p class="day-timer"><span class="figure">${shown.figure}</span> <span>${shown.caption}</span></p>`}
      <${Progress} shown=${shown} />
      <p class="note">${line(load, timer, at)}</p>
      <${Buttons} load=${load} timer=${timer} />
      ${dark && html`<${WayBack} load=${load} />`}
    </section>
  `;
}

/** @param {string} load @param {Timer | undefined} timer @param {number | null} at */
function line(load, timer, at) {
  const last = day.value.marks.filter((mark) => mark.load === load).at(-1);
  if (!last) return at === null ? "Not struck yet" : `Planned at ${span(at)}`;
  const words = { struck: "Struck", out: "Out", hot: "Found hot", clock: "" }[last.what];
  const since = timer?.since == null ? "" : `, ${gone(timer.since, now.value)} ago`;
  return [`${words} ${when(last.at, now.value)}${since}`, alsoAt(timer, now.value)].filter(Boolean).join(". ");
}

/** Open while dark, filled while lit: the word beside it says which. @param {{timer: Timer | undefined}} props */
const Lit = ({ timer }) => html`
  <svg class="lit lit-${timer?.state.replace(" ", "-") ?? "cold"}" viewBox="0 0 24 24" aria-hidden="true" focusable="false"><circle cx="12" cy="12" r="9" /></svg>
`;

/** How far it has come up, or how far it still has to cool. @param {{shown: Shown}} props */
function Progress({ shown: { from, to, warm } }) {
  if (from === null || to === null) return null;
  const share = Math.min(1, Math.max(0, (now.value - Math.min(from, to)) / Math.abs(to - from)));
  return html`
    <svg class="day-progress" width="100%" height="10" aria-hidden="true" focusable="false">
      <rect class="bar-track" width="100%" height="10" />
      <rect class=${warm ? "day-warm" : "day-cold"} width=${`${100 * (to > from ? share : 1 - share)}%`} height="10" />
    </svg>
  `;
}

/** Two places that never swap: what makes light on the left, what ends it on the right. @param {{load: string, timer: Timer | undefined}} props */
function Buttons({ load, timer }) {
  const burns = timer?.state === "running up" || timer?.state === "full";
  const end = burns ? { words: "Out", what: "out" } : { words: "Found hot", what: "hot" };
  return html`
    <div class="day-buttons">
      <button type="button" class="button" disabled=${burns} onClick=${() => press(load, "struck")}>Struck<span class="hidden"> ${load}</span></button>
      <button type="button" class="button" onClick=${() => press(load, /** @type {"out" | "hot"} */ (end.what))}>${end.words}<span class="hidden"> ${load}</span></button>
    </div>
  `;
}

/** @param {{load: string}} props */
function WayBack({ load }) {
  const open = asking.value === load;
  return html`
    <button type="button" class="button" aria-expanded=${open} onClick=${() => (asking.value = open ? "" : load)}>What to do now<span class="hidden"> about ${load}</span></button>
    ${open && html`<${DroppedPart} load=${load} />`}
  `;
}
