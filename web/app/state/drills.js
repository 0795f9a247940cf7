// Drills: what was answered, kept on this device.
import { signal } from "@preact/signals";
import { parseOr } from "./local.js";

/**
 * @typedef {import("./shapes.js").Mark} Mark
 * @typedef {{answer: string, mark: Mark | null, hints: number, done: boolean}} Attempt
 */

const KEY = "feed-to-frame:drills";

/** Drills done, by id: the codes of the numbers they were done with. */
export const done = signal(/** @type {Record<string, string[]>} */ (parseOr(localStorage.getItem(KEY), {})));

/** @param {string} id @param {string} code */
export function markDone(id, code) {
  const codes = new Set([...(done.value[id] ?? []), code]);
  done.value = { ...done.value, [id]: [...codes].slice(-20) };
  localStorage.setItem(KEY, JSON.stringify(done.value));
}

/** A new code: short enough to say across a set, so that two trainees can work on the same numbers. */
export function newCode() {
  const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";
  return [...crypto.getRandomValues(new Uint8Array(4))].map((byte) => letters[byte % letters.length]).join("");
}
