// The open rig: its document, the changes that the core has not seen yet, its answers, undo and redo.
import { computed, signal } from "@preact/signals";
import { clearBackup } from "./local.js";
import { ask, asFailure } from "./calculator.js";
import { loadHistory, remember, stepBack, stepForward } from "./history.js";
import { keepSoon } from "./keep.js";
import { settings } from "./settings.js";
import { route } from "./screen.js";
import { unpack, withEarlier } from "./unpack.js";

/**
 * @typedef {import("./shapes.js").Change} Change
 * @typedef {import("./shapes.js").Check} Check
 * @typedef {import("./shapes.js").Failure} Failure
 * @typedef {import("./shapes.js").RigRecord} RigRecord
 * @typedef {import("./shapes.js").RigDocument} RigDocument
 * @typedef {import("./shapes.js").Snapshot} Snapshot
 */

export const record = signal(/** @type {RigRecord | null} */ (null));
export const failure = signal(/** @type {Failure | null} */ (null));
/** True once the core of this session has answered for the rig as it stands. */
export const fresh = signal(false);
const packed = computed(() => record.value?.answers?.check ?? null);
export const check = computed(() => packed.value && unpack(packed.value));
/** False while the advice on the screen belongs to the answer before. */
export const advised = computed(() => record.value?.answers?.advised !== false);

const REST = 400; // ms without a keystroke before advice is worked out

/** Whether this tab may change the open rig; who knows sets it. */
let mine = () => true;
/** @param {() => boolean} ask */
export const changesOnlyIf = (ask) => (mine = ask);

/** The address whose keystrokes make one step of undo. */
let typing = "";
let running = false;
let again = false;
let resting = 0;

/** @param {Partial<RigRecord>} changes */
function put(changes) {
  const now = record.value;
  if (!now || !mine()) return;
  record.value = { ...now, ...changes, rev: now.rev + 1, saved: new Date().toISOString() };
  keepSoon(record.value);
}

/** @param {RigRecord | null} next @param {import("./shapes.js").History} [history] */
export function show(next, history) {
  record.value = next;
  failure.value = null;
  fresh.value = false;
  typing = "";
  loadHistory(history);
  if (next && mine()) keepSoon(next);
  if (!next) clearBackup();
  settle();
}

/** @param {string} label @returns {Snapshot} */
function snapshot(label) {
  const { rig, pending, load } = /** @type {RigRecord} */ (record.value);
  return { rig, pending, load, label };
}

/**
 * Changes the open rig. The text is kept as typed, whatever the core thinks of it.
 * @param {Change[]} changes
 * @param {string} label what undo calls it
 * @param {string} [keystroke] the address being typed in: one visit to a field is one step of undo
 */
export function edit(changes, label, keystroke = "") {
  if (!record.value) return;
  if (!keystroke || keystroke !== typing) remember(snapshot(label));
  typing = keystroke;
  const touched = new Set(changes.map((change) => change.address));
  put({ pending: [...record.value.pending.filter((old) => !touched.has(old.address)), ...changes] });
  settle();
}

export const endTyping = () => (typing = "");

/** @param {RigDocument} rig @param {string} load @param {string} label @param {Change[]} made changes that are in it already */
export function replace(rig, load, label, made = []) {
  remember(snapshot(label));
  typing = "";
  put({ rig, load, pending: record.value?.pending.filter((change) => !made.includes(change)) ?? [] });
  settle();
}

/** @param {Partial<Pick<RigRecord, "load" | "shot">>} choice */
export function choose(choice) {
  put(choice);
  settle();
}

/** @param {Snapshot | null} to @returns {string} what was undone or redone, or "" */
function restore(to) {
  if (!to) return "";
  typing = "";
  put({ rig: to.rig, pending: to.pending, load: to.load });
  settle();
  return to.label;
}

export const undo = () => (record.value ? restore(stepBack(snapshot(""))) : "");
export const redo = () => (record.value ? restore(stepForward(snapshot(""))) : "");

/** Has the core check the rig as it stands; asked again while it runs, it goes round once more. The figures that are looked at come first. */
export async function settle() {
  fresh.value = false;
  again = true;
  clearTimeout(resting);
  if (running) return;
  while (again) await settleOnce(false, !typing || route.value[0] === "whole" || !record.value?.answers);
  resting = setTimeout(advise, typing ? REST : 0);
}

/** The calculator is up: what waits for it is answered anyway. */
export const settleUnlessAsked = () => running || settle();

/** What to do about it takes the core longer than the figures, and nobody reads it while typing. */
async function advise() {
  await settleOnce(true, true);
  if (again) settle();
}

/** @param {boolean} advice @param {boolean} others whether other lamps are judged too: while somebody types about one, they wait */
async function settleOnce(advice, others) {
  again = false;
  running = true;
  await askOnce(advice, others);
  running = false;
}

/** @param {boolean} advice @param {boolean} others */
async function askOnce(advice, others) {
  const sent = record.value;
  if (!sent) return;
  const { rig, pending, load, shot } = sent;
  const { length, size } = settings.value;
  try {
    adopt(sent, await ask("check", { rig, changes: pending, load, shot, show: { length, size }, compact: true, advise: advice, others }), advice);
  } catch (error) {
    if (record.value?.id === sent.id) failure.value = asFailure(error);
  }
}

/** @param {RigRecord} sent @param {Check} answer @param {boolean} advice */
function adopt(sent, answer, advice) {
  const now = record.value;
  if (!now || now.id !== sent.id || now.rig !== sent.rig || takenBack(sent.pending, now.pending)) return; // undone or replaced meanwhile: another check follows
  const chain = answer.chain;
  put({
    rig: answer.rig,
    name: answer.name,
    pending: now.pending.filter((change) => !sent.pending.includes(change)),
    load: now.load === sent.load ? (chain?.load ?? "") : now.load,
    shot: now.shot === sent.shot ? (chain?.shot ?? "") : now.shot,
    answers: { check: advice ? answer : withEarlier(answer, now.answers?.check), at: new Date().toISOString(), good: lastGood(now.answers, chain), advised: advice },
  });
  failure.value = null;
  fresh.value = !again;
}

/** Whether a change that was sent does not wait any more and no newer one stands in its place. @param {Change[]} sent @param {Change[]} now */
const takenBack = (sent, now) => sent.some(({ address }) => !now.some((change) => change.address === address));

/** The last chain without a problem in its fields; the one of the answer itself needs no second copy.
 * @param {import("./shapes.js").Answers | null} answers @param {import("./shapes.js").Chain | null} chain */
function lastGood(answers, chain) {
  if (!chain?.problems.length) return null;
  const before = answers?.check.chain;
  return before && !before.problems.length ? before : (answers?.good ?? null);
}
