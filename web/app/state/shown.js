// What the rig screen shows of the answers: the last good figures stand in, marked, where a new one cannot be made.
import { computed } from "@preact/signals";
import { advised, check, fresh, record } from "./rig.js";

/**
 * @typedef {import("./shapes.js").Chain} Chain
 * @typedef {import("./shapes.js").Link} Link
 * @typedef {import("./shapes.js").Field} Field
 * @typedef {Link & {previous: boolean}} ShownLink
 */

/** @param {Link} link @param {Link | undefined} good @returns {ShownLink} */
function standIn(link, good) {
  if (link.figure || !good?.figure) return { ...link, previous: false };
  const { figure, caption, share, bar } = good;
  return { ...link, figure, caption, share, bar, previous: true };
}

export const chain = computed(() => {
  const now = check.value?.chain;
  if (!now) return null;
  const kept = record.value?.answers?.good;
  const good = kept?.load === now.load ? kept : null;
  return { ...now, links: now.links.map((link) => standIn(link, good?.links.find((old) => old.id === link.id))) };
});

/** Texts that the core has not seen yet, by address. */
const pending = computed(() => new Map(record.value?.pending.map((change) => [change.address, change.text])));

/** What the rig file holds at an address, which is the path of its keys. @param {string} address @returns {unknown} */
function held(address) {
  /** @type {any} */
  let at = record.value?.rig;
  for (const key of address.split("/")) at = at?.[key];
  return at ?? "";
}

/**
 * The answers may be older than the rig: after typing, and after an undo before the calculator is up.
 * @param {Field} field as the core last answered it
 * @returns {Field} the field with the text that the rig has now
 */
export function asItStands(field) {
  const text = pending.value.get(field.address) ?? held(field.address);
  return typeof text !== "string" || text === field.text ? field : { ...field, text, problem: null };
}

/** True while the figures on the screen belong to the rig before its last change. */
export const behind = computed(() => pending.value.size > 0 || !fresh.value);

/** True while the ways out on the screen may not fit the rig any more: they are shown, and cannot be taken. */
export const adviceBehind = computed(() => behind.value || !advised.value);
