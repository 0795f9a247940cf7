// The calculator's worker: boots the shipped Python, then answers one JSON question after another.
//
//   in   {type: "start", cold}       cold: nothing is in the cache yet, so show the download
//        {id, method, params}
//        {type: "load more"}         a part of the core that the first answer did not need
//   out  {type: "boot", words}  {type: "ready", ms, stages}  {type: "boot-failed", message, detail}
//        {id, answer, ms}            answer: the door's JSON text; how long it took
//        {type: "loaded", more}
//        {type: "crashed", message}  the interpreter is gone for good

import { loadPyodide } from "pyodide";
import { boot } from "./boot.js";

/** @typedef {import("./boot.js").Door} Door */

const PLACE = {
  pyodide: new URL("../../pyodide/", import.meta.url).href,
  core: new URL("../../core/", import.meta.url).href,
  bytes,
};
const MB = 1e6;

/** @type {Door | undefined} */
let door;

addEventListener("message", ({ data }) => {
  if (data.type === "start") start(data.cold);
  else if (data.type === "load more") postMessage({ type: "loaded", more: door?.loadMore() });
  else answer(data);
});
addEventListener("securitypolicyviolation", (/** @type {any} */ event) => {
  // Pyodide tries importScripts to learn what kind of worker this is; that one is meant to be refused.
  if (!door && event.effectiveDirective !== "require-trusted-types-for") failed(`The security policy stopped ${event.blockedURI}.`);
});

/** @param {boolean} cold */
async function start(cold) {
  try {
    if (cold) await download();
    door = await boot(loadPyodide, PLACE, stage);
    stage("Ready");
    postMessage({ type: "ready", ms: Math.round(performance.now()), stages: stages() });
  } catch (error) {
    failed(error);
  }
}

/** @param {{id: number, method: string, params: object}} question */
function answer({ id, method, params }) {
  try {
    if (!door) throw new Error("asked before it was ready");
    const start = performance.now();
    postMessage({ id, answer: door.ask(JSON.stringify({ method, params })), ms: performance.now() - start });
  } catch (error) {
    if (error instanceof Error && error.name === "PythonError") postMessage({ id, answer: JSON.stringify(ownError(error)) });
    else postMessage({ type: "crashed", message: String(error) });
  }
}

/** @param {Error} error */
function ownError(error) {
  const message = "The calculator ran into an error of its own.";
  const hint = "Your rig is kept. Undo the last change, or save the rig as a file and report this.";
  return { ok: false, error: { code: "core-error", message, hint, problems: [], detail: error.message } };
}

/** @param {unknown} error */
function failed(error) {
  postMessage({ type: "boot-failed", message: "The calculator did not start.", detail: String(error) });
}

// ---- boot stages -------------------------------------------------------------------------------

/** @param {string} words */
function stage(words) {
  performance.mark(words);
  postMessage({ type: "boot", words });
}

/** Milliseconds at which each stage began. */
function stages() {
  return Object.fromEntries(performance.getEntriesByType("mark").map((mark) => [mark.name, Math.round(mark.startTime)]));
}

// ---- fetching ----------------------------------------------------------------------------------

/** @param {string} url */
async function bytes(url) {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url}: ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
}

/** Brings the big files into the browser's own cache, saying how far it is; Pyodide by itself would be silent. */
async function download() {
  let done = 0;
  const files = ["pyodide.asm.wasm", "pyodide.asm.mjs"].map((name) => PLACE.pyodide + name);
  for (const url of [...files, PLACE.core + "python.zip"]) {
    const response = await fetch(url);
    if (!response.ok || !response.body) throw new Error(`${url}: ${response.status}`);
    const reader = response.body.getReader();
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      done += part.value.byteLength;
      postMessage({ type: "boot", words: `First visit: fetching the calculator, ${(done / MB).toFixed(1)} MB so far` });
    }
  }
}
