// What lies in localStorage. The second copy of the open rig is read first, because it needs no waiting.

/** @typedef {import("./shapes.js").RigRecord} RigRecord */

/**
 * @template T
 * @param {string | null} text
 * @param {T} otherwise
 * @returns {T}
 */
export function parseOr(text, otherwise) {
  if (text === null) return otherwise;
  try {
    return JSON.parse(text);
  } catch {
    return otherwise;
  }
}

const KEY = "feed-to-frame:open";

/** @returns {RigRecord | null} */
export function readBackup() {
  const record = parseOr(localStorage.getItem(KEY), /** @type {RigRecord | null} */ (null));
  return record && record.id && record.rig ? record : null;
}

/**
 * Keeps the rig, with its answers where there is room for them.
 * @param {RigRecord} record
 * @returns {boolean} false when not even the rig fits
 */
export function writeBackup(record) {
  for (const copy of [record, { ...record, answers: null }]) {
    try {
      localStorage.setItem(KEY, JSON.stringify(copy));
      return true;
    } catch {
      // No room: the second round leaves the answers out.
    }
  }
  return false;
}

export const clearBackup = () => localStorage.removeItem(KEY);
