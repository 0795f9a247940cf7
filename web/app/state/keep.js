// When and how the open rig is written down, and what the page says about it.
import { signal } from "@preact/signals";
import { writeBackup } from "./local.js";
import { history } from "./history.js";
import { writeRig } from "./store.js";

/** @typedef {import("./shapes.js").RigRecord} RigRecord */

const PAUSE = 200;
export const saved = signal({ words: "", safe: true });
export const persisted = signal(/** @type {boolean | null} */ (null));

/** @type {RigRecord | null} */
let waiting = null;
let timer = 0;
/** @type {Promise<void>} */
let writing = Promise.resolve();

/** @param {RigRecord} record the second copy is written at once, the main one after a short pause */
export function keepSoon(record) {
  waiting = record;
  if (!writeBackup(record)) saved.value = { words: "The second copy does not fit on this device", safe: false };
  timer ||= setTimeout(flush, PAUSE); // answers that follow a change must not put its writing off
}

/** Writes what waits, now. Resolves when it is written or when the page has said that it is not. */
export function flush() {
  clearTimeout(timer);
  timer = 0;
  const record = waiting;
  waiting = null;
  if (record) writing = writing.then(() => write(record));
  return writing;
}

/** @param {RigRecord} record */
async function write(record) {
  try {
    await writeRig(record, history.value);
    saved.value = { words: `Saved ${clock(new Date())}`, safe: true };
    announce(record);
    askToPersist();
  } catch {
    const backup = writeBackup(record);
    saved.value = backup
      ? { words: "Saved in the backup store. Close and reopen the app.", safe: false }
      : { words: "Not saved. Export the rig now.", safe: false };
  }
}

async function askToPersist() {
  if (persisted.value !== null || !navigator.storage?.persist) return;
  persisted.value = false;
  persisted.value = await navigator.storage.persist().catch(() => false);
}

/** @param {Date} when */
export const clock = (when) => when.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

// ---- two tabs on one device: the one that saves tells the other --------------------------------

const channel = "BroadcastChannel" in self ? new BroadcastChannel("feed-to-frame") : null;

/** @param {RigRecord} record */
export const announce = (record) => channel?.postMessage({ id: record.id, rev: record.rev });

/** @param {(id: string, rev: number) => void} hear */
export function hearOthers(hear) {
  channel?.addEventListener("message", ({ data }) => hear(String(data?.id), Number(data?.rev)));
}
