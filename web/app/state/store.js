// Rigs on this device: IndexedDB first, with a second copy of the open rig in localStorage.
import { openDB } from "idb";

/**
 * @typedef {import("./shapes.js").RigRecord} RigRecord
 * @typedef {import("./shapes.js").History} History
 */

const NAME = "feed-to-frame";
/** @type {Promise<import("idb").IDBPDatabase> | null} */
let opened = null;

function database() {
  opened ??= openDB(NAME, 1, {
    upgrade(db) {
      db.createObjectStore("rigs", { keyPath: "id" });
      db.createObjectStore("history");
    },
    blocking: () => forget(),
    terminated: () => forget(),
  });
  return opened;
}

function forget() {
  opened?.then((db) => db.close()).catch(() => {});
  opened = null;
}

/**
 * WebKit can lose its connection while the app is in the background, and every later use of the old handle fails.
 * So a failed use drops the handle and is tried once more on a new one.
 * @template T
 * @param {(db: import("idb").IDBPDatabase) => Promise<T>} use
 */
async function withDatabase(use) {
  try {
    return await use(await database());
  } catch {
    forget();
    return use(await database());
  }
}

/** @returns {Promise<RigRecord[]>} */
export const readRigs = () => withDatabase((db) => db.getAll("rigs"));

/** @param {string} id @returns {Promise<History | undefined>} */
export const readHistory = (id) => withDatabase((db) => db.get("history", id));

/**
 * Resolves once the device has really written it.
 * @param {RigRecord} record
 * @param {History | null} history null leaves the kept history as it is
 */
export function writeRig(record, history) {
  return withDatabase(async (db) => {
    const transaction = db.transaction(["rigs", "history"], "readwrite", { durability: "strict" });
    const there = await transaction.objectStore("rigs").get(record.id);
    if (there && there.rev > record.rev) return; // another tab wrote a newer state: this one must not undo it
    transaction.objectStore("rigs").put(record);
    if (history) transaction.objectStore("history").put(history, record.id);
    await transaction.done;
  });
}

/** @param {string} id */
export function eraseRig(id) {
  return withDatabase(async (db) => {
    const transaction = db.transaction(["rigs", "history"], "readwrite", { durability: "strict" });
    transaction.objectStore("rigs").delete(id);
    transaction.objectStore("history").delete(id);
    await transaction.done;
  });
}
