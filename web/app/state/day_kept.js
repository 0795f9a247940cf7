// Where a rig's day lies on this device: beside the rig under a key of its own, so that no undo takes a strike back. It goes
// when its rig is gone for good, and its marks travel in the rig's file.
import { parseOr } from "./local.js";

/**
 * @typedef {import("./strike_shapes.js").Press} Press
 * @typedef {import("./strike_shapes.js").Day} Day
 */

const KEY = "feed-to-frame:day:";

/** @param {string} of the rig's id @returns {Day} */
export function keptDay(of) {
  const found = parseOr(of ? localStorage.getItem(KEY + of) : null, /** @type {Partial<Day>} */ ({}));
  return { of, marks: found.marks ?? [], lamps: found.lamps ?? {}, seen: found.seen ?? 0 };
}

/** @param {Day} day @returns {boolean} false when there is no room */
export function keepDay({ of, ...rest }) {
  try {
    localStorage.setItem(KEY + of, JSON.stringify(rest));
    return true;
  } catch {
    return false;
  }
}

/** @param {string | null} key @returns {boolean} whether a key of the device's store is this rig's day */
export const isDayOf = (key, /** @type {string} */ of) => key === KEY + of;

/** Drops the days of rigs that are not on this device any more. @param {Iterable<string>} ids of those that are */
export function sweepDays(ids) {
  const there = new Set([...ids].map((id) => KEY + id));
  for (const key of Object.keys(localStorage)) if (key.startsWith(KEY) && !there.has(key)) localStorage.removeItem(key);
}
