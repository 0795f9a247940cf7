import { signal } from "@preact/signals";

/**
 * @typedef {import("./shapes.js").Snapshot} Snapshot
 * @typedef {import("./shapes.js").History} History
 */

const LEVELS = 60;
/** @type {History} */
const EMPTY = { past: [], future: [] };

export const history = signal(EMPTY);

/** @param {History | undefined} kept */
export const loadHistory = (kept) => (history.value = kept ?? EMPTY);

/**
 * Remembers how things stood before a change.
 * @param {Snapshot} before
 */
export function remember(before) {
  history.value = { past: [...history.value.past, before].slice(-LEVELS), future: [] };
}

/**
 * Steps back; `now` becomes the first thing that redo brings back.
 * @param {Snapshot} now
 * @returns {Snapshot | null}
 */
export function stepBack(now) {
  const { past, future } = history.value;
  const before = past.at(-1);
  if (!before) return null;
  history.value = { past: past.slice(0, -1), future: [{ ...now, label: before.label }, ...future] };
  return before;
}

/**
 * @param {Snapshot} now
 * @returns {Snapshot | null}
 */
export function stepForward(now) {
  const { past, future } = history.value;
  const [after, ...rest] = future;
  if (!after) return null;
  history.value = { past: [...past, { ...now, label: after.label }], future: rest };
  return after;
}
