// The whole rig: what the core says of it, and what can be done with its parts. Every change is one step of undo.
import { computed, signal } from "@preact/signals";
import { ask, asFailure } from "./calculator.js";
import { check, edit, failure, record, replace } from "./rig.js";

/**
 * @typedef {import("./shapes.js").Term} Term
 * @typedef {import("./shapes.js").Verdict} Verdict
 * @typedef {import("./shapes.js").Change} Change
 * @typedef {import("./shapes.js").Finding} Finding
 * @typedef {import("./shapes.js").Step} Step
 * @typedef {import("./shapes.js").Evidence} Evidence
 *
 * @typedef {{id: string, kind: "supply" | "run" | "box" | "lamp", parent: string, depth: number, title: string, detail: string,
 *   verdict: Verdict, carried: Verdict, line: string, says: string, voltage: Term | null, current: Term | null}} Node
 * @typedef {{conductor: string, title: string, current: Term, rating: Term | null, verdict: Verdict, bar: {fraction: number, limit: number} | null}} LineLoad
 * @typedef {{says: string, before: {[conductor: string]: Term}, after: {[conductor: string]: Term},
 *   moves: {load: string, name: string, from: string, to: string}[], changes: Change[], proven: boolean}} Balance
 * @typedef {{load: string, name: string, verdict: Verdict, says: string, before: Term, after: Term | null, highest: Term}} Hit
 * @typedef {{title: string, place: string, verdict: Verdict, says: string, hits: Hit[], steps: Step[], evidence: Evidence, cautions: string[]}} WhatIf
 * @typedef {{title: string, channels: string[], rows: {name: string, cells: (Term | null)[]}[], steps: Step[], evidence: Evidence,
 *   assumptions: import("./shapes.js").Assumption[], cautions: string[]}} MeterHere
 */

/** @type {{value: {tree: Node[], lines: LineLoad[], source: Finding[]} | null}} */
export const whole = computed(() => {
  const answer = /** @type {any} */ (check.value);
  return answer?.tree ? { tree: answer.tree, lines: answer.lines, source: answer.source } : null;
});

/** The rig with the changes that the core has not answered yet. */
export async function asEntered() {
  const { rig, pending } = /** @type {import("./shapes.js").RigRecord} */ (record.value);
  return pending.length ? (await ask("check", { rig, changes: pending, advise: false, compact: true })).rig : rig;
}

/**
 * Has the core change the open rig.
 * @param {string} method @param {object} params @param {string} label what undo calls it
 */
async function act(method, params, label) {
  const before = record.value;
  if (!before) return;
  try {
    const { rig, load } = await ask(method, { rig: await asEntered(), ...params });
    if (record.value?.id === before.id) replace(rig, load ?? before.load, label, before.pending);
  } catch (error) {
    failure.value = asFailure(error);
  }
}

/** @param {string} load @param {string} name */
export const duplicateLamp = (load, name) => act("duplicate_lamp", { load }, `Duplicate ${name}`);
/** @param {string} part @param {string} to @param {string} name */
export const movePart = (part, to, name) => act("move_part", { part, to }, `Move ${name}`);
/** @param {string} part @param {string} name */
export const removePart = (part, name) => act("remove_part", { part }, `Remove ${name}`);
/** @param {string} fedBy */
export const addBox = (fedBy) => act("add_box", { fed_by: fedBy }, "Add a box");
/** @param {string} load @param {string} connection @param {string} name */
export const plugTo = (load, connection, name) => edit([{ address: `loads/${load}/connection`, text: connection }], `Plug ${name} to ${connection}`);

/**
 * @template T @param {string} method @param {{value: import("./shapes.js").Failure | null}} [refused] where a refusal is shown; over the whole screen unless said
 * @returns {{answer: import("@preact/signals").Signal<T | null>, ask: (params?: object) => Promise<void>}}
 */
function question(method, refused = failure) {
  const answer = signal(/** @type {T | null} */ (null));
  return {
    answer,
    async ask(params = {}) {
      try {
        answer.value = await ask(method, { rig: await asEntered(), ...params });
      } catch (error) {
        refused.value = asFailure(error);
      }
    },
  };
}

/** @type {ReturnType<typeof question<Balance>>} */
export const balance = question("balance");
/** Why a meter shows nothing at the place that is open. */
export const meterRefused = signal(/** @type {import("./shapes.js").Failure | null} */ (null));
/** @type {ReturnType<typeof question<MeterHere>>} */
export const meterHere = question("meter_here", meterRefused);
/** @type {ReturnType<typeof question<WhatIf>>} */
export const whatIf = question("what_if");

/** @param {Balance} proposal */
export function replug(proposal) {
  edit(proposal.changes, "Balance the lines");
  balance.answer.value = null;
}
