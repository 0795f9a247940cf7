// What one lamp's timer shows at a moment: a word, one large figure, what the figure is.
import { gone, left } from "./words.js";

/**
 * @typedef {import("../../state/strike_shapes.js").Timer} Timer
 * @typedef {{word: string, figure: string, caption: string, from: number | null, to: number | null, warm: boolean}} Shown
 */

/** @param {Timer | undefined} timer @param {number} now @returns {Shown} */
export function shownAt(timer, now) {
  if (!timer || timer.since === null) return { word: "Cold", figure: "", caption: "not struck", from: null, to: null, warm: false };
  return timer.state === "cooling" || timer.state === "cold" ? dark(timer, timer.since, now) : lit(timer, timer.since, now);
}

/** @param {Timer} timer @param {number} since @param {number} now @returns {Shown} */
function lit({ full_at, colour_at }, since, now) {
  if (full_at !== null && now < full_at)
    return { word: "Running up", figure: left(full_at, now), caption: "to full light", from: since, to: full_at, warm: true };
  if (colour_at !== null && now < colour_at)
    return { word: "Full light", figure: left(colour_at, now), caption: "to full colour", from: since, to: colour_at, warm: true };
  return { word: "Full light", figure: gone(since, now), caption: "since the strike", from: null, to: null, warm: false };
}

/** @param {Timer} timer @param {number} since @param {number} now @returns {Shown} */
function dark({ ready_at }, since, now) {
  if (ready_at !== null && now < ready_at)
    return { word: "Hot", figure: left(ready_at, now), caption: "until it may be struck", from: ready_at, to: since, warm: true };
  const word = ready_at !== null && ready_at <= since ? "Hot, may be struck" : "Cold";
  return { word, figure: gone(since, now), caption: "since it went out", from: null, to: null, warm: false };
}

/** Both instants of a lamp that burns, the nearer one large above. @param {Timer | undefined} timer @param {number} now */
export function alsoAt(timer, now) {
  if (!timer || timer.since === null || timer.full_at === null || now >= timer.full_at || timer.colour_at === null) return "";
  return `Full colour in ${left(timer.colour_at, now)}`;
}
