import { signal } from "@preact/signals";

/** @typedef {{text: string, act?: {label: string, run: () => void}, urgent?: boolean}} Notice */

/** One short message above the tabs, with at most one thing to do about it. */
export const notice = signal(/** @type {Notice | null} */ (null));
let timer = 0;

/** @param {Notice} next */
export function tell(next) {
  clearTimeout(timer);
  notice.value = next;
  if (!next.urgent) timer = setTimeout(() => (notice.value = null), 10_000);
}

export const dismiss = () => (notice.value = null);
