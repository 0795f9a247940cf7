// Runs Python files, given as {path: text} on standard input, in the very Python that the page ships; prints what `main` gives.

import { readFile } from "node:fs/promises";
import { text } from "node:stream/consumers";
import { boot } from "../../web/app/core/boot.js";
import { loadPyodide } from "../../web/dist/pyodide/pyodide.mjs";

const dist = new URL("../../web/dist/", import.meta.url).pathname;
const place = { pyodide: `${dist}pyodide/`, core: `${dist}core/`, bytes: async (file) => new Uint8Array(await readFile(file)) };

try {
  let python;
  await boot(async (options) => (python = await loadPyodide(options)), place, () => {});
  for (const [path, content] of Object.entries(JSON.parse(await text(process.stdin)))) {
    python.FS.mkdirTree(`/given/${path}`.replace(/\/[^/]*$/, ""));
    python.FS.writeFile(`/given/${path}`, content);
  }
  console.log(python.runPython(`import sys; sys.path.insert(0, "/given"); import main; main.answer()`));
} catch (error) {
  console.error(String(error).slice(-4000)); // an uncaught one would print the whole of Pyodide
  process.exitCode = 1;
}
