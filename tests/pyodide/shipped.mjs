// Answers questions with the very Python that the page ships: one JSON question a line in, one answer a line out.

import { readFile } from "node:fs/promises";
import { createInterface } from "node:readline";
import { boot } from "../../web/app/core/boot.js";
import { loadPyodide } from "../../web/dist/pyodide/pyodide.mjs";

const dist = new URL("../../web/dist/", import.meta.url).pathname;
const place = { pyodide: `${dist}pyodide/`, core: `${dist}core/`, bytes: async (file) => new Uint8Array(await readFile(file)) };

try {
  const { ask } = await boot(loadPyodide, place, () => {});
  for await (const line of createInterface({ input: process.stdin })) console.log(ask(line));
} catch (error) {
  console.error(String(error).slice(-4000)); // an uncaught one would print the whole of Pyodide
  process.exitCode = 1;
}
