// Which tab of this device may change a rig: one at a time. Any other shows it, and can take it over.
import { computed, effect, signal, untracked } from "@preact/signals";
import { record } from "./rig.js";
import { flushTyping } from "./typing.js";

const NAME = "feed-to-frame:rig:";
const PATIENCE = 300; // ms that a page that is being left may take to let go
const FROZEN = 1500; // ms after which a tab that does not let go is taken for a sleeping one

/** True while another tab holds the open rig. */
export const elsewhere = signal(false);

const locks = navigator.locks;
const channel = "BroadcastChannel" in self ? new BroadcastChannel("feed-to-frame:hold") : null;
const open = computed(() => record.value?.id ?? "");

/** @typedef {{flush: () => Promise<void>, renew: (id: string) => Promise<void>}} Work what is done before letting go, and after getting hold */
/** @type {Work} */
let work = { flush: async () => {}, renew: async () => {} };
/** Ends this tab's hold of a rig, or its waiting for one. */
let leave = () => {};

/** From now on the open rig is held, or waited for. @param {Work} given */
export function startHolding(given) {
  work = given;
  if (!locks) return; // then a newer state on the device is all that keeps an older one from being written
  channel?.addEventListener("message", ({ data }) => data?.letGo === open.value && !elsewhere.value && letGo());
  effect(() => {
    const id = open.value;
    untracked(() => (leave(), (elsewhere.value = false), id && queue(id)));
  });
}

/** Waits in line for a rig, and holds it once it is this tab's turn. @param {string} id @param {LockOptions} [how] */
function queue(id, how = {}) {
  const stop = new AbortController();
  const late = setTimeout(() => (elsewhere.value = true), PATIENCE);
  leave = () => (clearTimeout(late), stop.abort());
  /** @param {Lock | null} lock */
  const held = (lock) => (clearTimeout(late), got(id, lock));
  locks.request(NAME + id, how.steal ? how : { signal: stop.signal }, held).catch(() => stop.signal.aborted || lost(id));
}

/** @param {string} id @param {Lock | null} lock @returns {Promise<void>} pending as long as the rig is held */
async function got(id, lock) {
  if (!lock || open.value !== id) return;
  const done = new Promise((resolve) => (leave = () => resolve(undefined)));
  if (elsewhere.value) await work.renew(id);
  elsewhere.value = false;
  await done;
}

/** Another tab took the rig from this one. @param {string} id */
function lost(id) {
  if (open.value !== id) return;
  elsewhere.value = true;
  queue(id);
}

/** Another tab asks for the rig: what waits is written first. */
async function letGo() {
  const id = open.value;
  flushTyping();
  elsewhere.value = true;
  await work.flush();
  leave();
  queue(id);
}

/** Asks the tab that holds the rig for it, and takes it from one that does not answer. */
export function takeOver() {
  const id = open.value;
  channel?.postMessage({ letGo: id });
  setTimeout(() => {
    if (!elsewhere.value || open.value !== id) return;
    leave();
    queue(id, { steal: true });
  }, FROZEN);
}
