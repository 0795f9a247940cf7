// Rigs in and out of this device as files and text.
import { ask } from "./calculator.js";
import { keptDay } from "./day_kept.js";
import { addRig } from "./rigs.js";
import { tell } from "./screen.js";

/** @typedef {import("./shapes.js").RigRecord} RigRecord */

const LIMIT = 256 * 1024;

/** @param {string} message @param {string} hint */
const refusal = (message, hint) => ({ code: "not-imported", message, hint, problems: [], detail: "" });

/**
 * Adds a copy of a rig file. Nothing that is already here is overwritten.
 * @param {File} file
 * @returns {Promise<void>} throws a Failure
 */
export async function importFile(file) {
  if (file.size > LIMIT) throw refusal(`${file.name} is larger than 256 KB.`, "A rig file is a few kilobytes. Choose another file.");
  const { rig, marks, problems } = await ask("open_rig", { text: await file.text() });
  await addRig(rig, "", marks);
  const lost = problems.filter((/** @type {{code: string}} */ { code }) => code.startsWith("mark")).length;
  if (lost) tell({ text: lost === 1 ? "One mark of the day in this file could not be read." : `${lost} marks of the day in this file could not be read.` });
}

/** The rig with what was pressed on its day. @param {RigRecord} record */
export function asText(record) {
  const { marks } = keptDay(record.id);
  return JSON.stringify(marks.length ? { ...record.rig, marks } : record.rig, null, 2) + "\n";
}

/** @param {RigRecord} record @param {string} ending */
function asFile(record, ending) {
  const name = record.name.replace(/[^\p{L}\p{N} _-]/gu, "").trim().slice(0, 60) || "rig";
  return new File([asText(record)], name + ending, { type: ending === ".json" ? "application/json" : "text/plain" });
}

/**
 * Shares the file where the device can, since a download traps an iOS home-screen app; else downloads it.
 * @param {RigRecord} record
 * @returns {Promise<string>} what was done, in words
 */
export async function exportRig(record) {
  // Chromium shares no .json, but does share .txt.
  const files = [asFile(record, ".json"), asFile(record, ".json.txt")];
  const file = files.find((candidate) => navigator.canShare?.({ files: [candidate] }));
  if (file && matchMedia("(pointer: coarse)").matches) return share(file);
  download(files[0]);
  return `Downloaded ${files[0].name}`;
}

/** @param {File} file */
async function share(file) {
  try {
    await navigator.share({ files: [file], title: file.name });
    return `Shared ${file.name}`;
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") return "Not shared";
    throw error;
  }
}

/** @param {File} file */
function download(file) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
