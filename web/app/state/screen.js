// Which screen is shown, how wide it is, and the message over it.
import { signal } from "@preact/signals";

// ---- which screen ------------------------------------------------------------------------------

/** The screen and what follows it: "#drills/drop/4711" is ["drills", "drop", "4711"]. */
const read = () => location.hash.replace(/^#\/?/, "").split("/").filter(Boolean).map(decodeURIComponent);

export const route = signal(read());

addEventListener("hashchange", () => {
  route.value = read();
  scrollTo(0, 0);
});

/** @param {string[]} parts */
export const href = (...parts) => "#" + parts.map(encodeURIComponent).join("/");

/** @param {string[]} parts */
export function go(...parts) {
  location.hash = href(...parts);
}

/** Does some work and goes where it leads, unless people have gone elsewhere meanwhile. @param {() => Promise<string[] | void>} work */
export async function goAfter(work) {
  const from = location.hash;
  const parts = await work();
  if (parts && location.hash === from) go(...parts);
}

// ---- how wide ----------------------------------------------------------------------------------

/** Wide enough to hold the chain and an open link side by side. */
const query = matchMedia("(min-width: 50rem)");
export const wide = signal(query.matches);
query.addEventListener("change", () => (wide.value = query.matches));

// ---- the message over it -----------------------------------------------------------------------

/** @typedef {{text: string, act?: {label: string, run: () => void}}} Notice */

const READING_TIME = 10_000;

/** One short message above the tabs, with at most one thing to do about it. */
export const notice = signal(/** @type {Notice | null} */ (null));
let timer = 0;

/** @param {Notice} next */
export function tell(next) {
  clearTimeout(timer);
  notice.value = next;
  timer = setTimeout(dismiss, READING_TIME);
}

export const dismiss = () => (notice.value = null);
