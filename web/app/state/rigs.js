// All rigs on this device: start, open, make, copy, delete and put back.
import { signal } from "@preact/signals";
import { keepDay, sweepDays } from "./day_kept.js";
import { readBackup } from "./local.js";
import { ask } from "./calculator.js";
import { announce, flush, hearOthers } from "./keep.js";
import { elsewhere, startHolding } from "./hold.js";
import { changesOnlyIf, edit, record, replace, show } from "./rig.js";
import { eraseRig, readHistory, readRigs, writeRig } from "./store.js";
import { tell } from "./screen.js";

/**
 * @typedef {import("./shapes.js").RigRecord} RigRecord
 * @typedef {import("./shapes.js").RigDocument} RigDocument
 */

const KEPT_AFTER_DELETION = 30 * 24 * 3600 * 1000;
export const rigs = signal(/** @type {RigRecord[]} */ ([]));

/** @param {RigDocument} rig @param {string} [load] @returns {RigRecord} */
function newRecord(rig, load = "") {
  const name = typeof rig.name === "string" ? rig.name : "";
  const saved = new Date().toISOString();
  return { id: crypto.randomUUID(), rev: 1, name, rig, pending: [], load, shot: "", answers: null, saved, deleted: "" };
}

/** Shows the rig that was open last, at once from the second copy, then whichever copy is newer. */
export async function start() {
  const backup = readBackup();
  if (backup) record.value = backup;
  const read = await readRigs().catch(() => null);
  const kept = read ?? [];
  kept.sort((a, b) => b.saved.localeCompare(a.saved));
  rigs.value = kept;
  const open = newer(backup, kept);
  if (backup && open === backup && kept.some((rig) => rig.id === backup.id && rig.rev < backup.rev)) {
    tell({ text: "Your last changes were recovered." });
  }
  // Typing may have begun on the second copy: then that is the newest there is.
  if (open && record.value === backup) show(open, await readHistory(open.id).catch(() => undefined));
  changesOnlyIf(() => !elsewhere.value);
  startHolding({ flush, renew: showAsSaved });
  hearOthers(followOtherTab);
  await purge(kept);
  if (read) sweepDays([...(await readRigs()), ...(record.value ? [record.value] : [])].map((rig) => rig.id));
}

/** @param {RigRecord | null} backup @param {RigRecord[]} kept */
function newer(backup, kept) {
  if (!backup) return kept.find((rig) => !rig.deleted) ?? null;
  const main = kept.find((rig) => rig.id === backup.id);
  return main && main.rev >= backup.rev ? main : backup;
}

/** @param {RigRecord[]} kept */
async function purge(kept) {
  const old = kept.filter((rig) => rig.deleted && Date.now() - Date.parse(rig.deleted) > KEPT_AFTER_DELETION);
  for (const rig of old) await eraseRig(rig.id).catch(() => {});
}

/** Another tab saved a rig. @param {string} id @param {number} rev */
async function followOtherTab(id, rev) {
  await refresh();
  const other = rigs.value.find((rig) => rig.id === id);
  if (other && record.value?.id === id && rev > record.value.rev) record.value = other;
}

/** The rig as the tab that held it left it. @param {string} id */
async function showAsSaved(id) {
  rigs.value = await readRigs();
  const saved = rigs.value.find((rig) => rig.id === id);
  if (saved && record.value?.id === id) show(saved, await readHistory(id).catch(() => undefined));
}

export async function refresh() {
  await flush();
  rigs.value = await readRigs();
}

/** @param {RigRecord} next */
async function take(next) {
  await flush();
  show(next, await readHistory(next.id).catch(() => undefined));
  await refresh();
}

/** @param {RigDocument} rig @param {string} [load] @param {import("./strike_shapes.js").Press[]} [marks] of the day, from its file */
export function addRig(rig, load, marks = []) {
  const made = newRecord(rig, load);
  if (marks.length) keepDay({ of: made.id, marks, lamps: {}, seen: 0 });
  return take(made);
}

export const openDemo = async () => addRig((await ask("demo", {})).rig);
export const newRig = async () => addRig((await ask("new_rig", {})).rig);

/** @param {RigRecord} rig */
export const openRig = (rig) => take(rig);

/** @param {RigRecord} rig */
export function duplicate(rig) {
  const name = `${rig.name} (copy)`;
  const renamed = { address: "name", text: name };
  return take({ ...newRecord(rig.rig, rig.load), name, pending: [...rig.pending, renamed] });
}

/** The name lives in the rig itself: for one that is not open, the core puts it there when it is. @param {RigRecord} rig @param {string} name */
export async function rename(rig, name) {
  const change = { address: "name", text: name };
  if (rig.id === record.value?.id) return edit([change], "Rename the rig");
  const current = rigs.value.find((kept) => kept.id === rig.id) ?? rig;
  const pending = [...current.pending.filter((old) => old.address !== "name"), change];
  const renamed = { ...current, name, pending, rev: current.rev + 1, saved: new Date().toISOString() };
  await writeRig(renamed, null);
  announce(renamed);
  await refresh();
}

/** @param {RigRecord} rig */
export async function deleteRig(rig) {
  if (record.value?.id === rig.id) {
    await flush();
    show(null);
  }
  const current = rigs.value.find((kept) => kept.id === rig.id) ?? rig;
  await writeRig({ ...current, deleted: new Date().toISOString() }, null);
  await refresh();
  tell({ text: `Deleted ${rig.name}.`, act: { label: "Put back", run: () => putBack(rig) } });
}

/** @param {RigRecord} rig */
export async function putBack(rig) {
  await writeRig({ ...rig, deleted: "" }, null);
  await refresh();
}

/**
 * Adds a lamp to the open rig, or to a new one.
 * @param {{lamp: string, ballast: string, supply: string}} choice ids of the kit
 */
export async function addLamp(choice) {
  const before = record.value;
  const { rig, load } = await ask("add_lamp", { rig: before?.rig ?? null, ...choice });
  if (before && record.value?.id === before.id) replace(rig, load, "Add a lamp");
  else await addRig(rig, load);
}

/** @param {string} load @param {string} name */
export async function removeLamp(load, name) {
  const before = record.value;
  if (!before) return;
  const { rig } = await ask("remove_lamp", { rig: before.rig, load });
  if (record.value?.id === before.id) replace(rig, "", `Remove ${name}`);
}
