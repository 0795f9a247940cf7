// The page's side of the calculator: `call` asks, `state` says how it is. One question is under way at a time, so that
// a newer question of the same kind can take the place of one that still waits.

import { signal } from "@preact/signals-core";
import { CoreError } from "./error.js";
import { WORKER } from "./trusted_url.js";

/**
 * @typedef {object} State
 * @property {"starting" | "ready" | "working" | "failed"} status
 * @property {string} words what happens now, for people
 * @property {number} ms how long the start took; 0 while it lasts
 * @property {string} detail what a developer wants to know of a failure
 *
 * @typedef {object} Options
 * @property {string} [kind] of several questions of one kind only the latest is answered; older ones end with AbortError
 * @property {AbortSignal} [signal]
 *
 * @typedef {object} Question
 * @property {number} id
 * @property {string} method
 * @property {object} params
 * @property {string | undefined} kind
 * @property {(result: any) => void} resolve
 * @property {(error: unknown) => void} reject
 */

const SLOW_START = 20_000;
const SILENT_START = 60_000; // without any sign of life; a download gives signs
const SILENT_CALL = 60_000;
const REST = 300;

/** @type {import("@preact/signals-core").Signal<State>} */
export const state = signal(/** @type {State} */ ({ status: "starting", words: "Starting the calculator", ms: 0, detail: "" }));

/** When each stage of the start began, in ms, as the worker saw it. @type {{[stage: string]: number}} */
export let stages = {};

/** @type {Worker | undefined} */
let worker;
/** @type {Question[]} */
let waiting = [];
/** @type {Question | undefined} */
let asked;
let lastId = 0;
let crashes = 0; // since the last answer
let answered = false;
let more = true; // whether the worker may have more to load
/** @type {ReturnType<typeof setTimeout> | undefined} */
let rest;

// ---- asking ------------------------------------------------------------------------------------

/**
 * Asks the core. Rejects with a CoreError that carries code, hint and problems, or with AbortError.
 * @param {string} method
 * @param {object} [params]
 * @param {Options} [options]
 * @returns {Promise<any>}
 */
export function call(method, params = {}, { kind, signal: stop } = {}) {
  return new Promise((resolve, reject) => {
    if (stop?.aborted) return reject(aborted("stopped"));
    if (state.value.status === "failed") return reject(notRunning());
    const question = { id: ++lastId, method, params, kind, resolve, reject };
    if (kind) drop((other) => other.kind === kind, "a newer question took its place");
    stop?.addEventListener("abort", () => drop((other) => other === question, "stopped"), { once: true });
    waiting.push(question);
    next();
  });
}

/** Ends matching questions. One under way is forgotten: its answer comes, and nobody hears it.
 * @param {(question: Question) => boolean} matches
 * @param {string} why */
function drop(matches, why) {
  for (const question of [...waiting, ...(asked ? [asked] : [])].filter(matches)) question.reject(aborted(why));
  waiting = waiting.filter((question) => !matches(question));
}

function next() {
  if (!worker || asked || state.value.status === "starting") return;
  asked = waiting.shift();
  clearTimeout(rest);
  if (!asked) return idle();
  show({ status: "working", words: "Calculating" });
  watch(SILENT_CALL, () => crashed("It gave no answer for a minute."));
  worker.postMessage({ id: asked.id, method: asked.method, params: asked.params });
}

/** While nobody asks, the worker loads what the first answer did not need, a part at a time. */
function idle() {
  show({ status: "ready", words: "Ready" });
  if (more && answered) rest = setTimeout(() => worker?.postMessage({ type: "load more" }), REST);
}

/** @param {string} text the door's JSON @param {number} core ms that the worker took for it */
function settle(text, core) {
  const start = performance.now();
  const answer = JSON.parse(text);
  const question = /** @type {Question} */ (asked);
  asked = undefined;
  crashes = 0;
  answered = true;
  watch(0);
  performance.mark("core-answer", { detail: { method: question.method, core, parse: performance.now() - start, length: text.length } });
  if (answer.ok) question.resolve(answer.result);
  else question.reject(new CoreError(answer.error));
  next();
}

// ---- starting, failing, starting again ---------------------------------------------------------

/** Starts the calculator afresh; questions without an answer are put again. */
export function restart() {
  worker?.terminate();
  if (asked) waiting.unshift(asked);
  asked = undefined;
  answered = false;
  more = true;
  show({ status: "starting", words: "Starting the calculator", ms: 0, detail: "" });
  worker = new Worker(WORKER, { type: "module", name: "calculator" });
  worker.onmessage = ({ data }) => hear(data);
  worker.onerror = (event) => (event.preventDefault(), crashed(event.message || "Its program could not be loaded."));
  worker.onmessageerror = () => crashed("A message could not be read.");
  expectSignOfLife();
  worker.postMessage({ type: "start", cold: !navigator.serviceWorker?.controller });
}

/** @param {any} message from the worker */
function hear(message) {
  if (message.id) return settle(message.answer, message.ms);
  switch (message.type) {
    case "boot":
      expectSignOfLife();
      return show({ words: message.words });
    case "ready":
      stages = message.stages;
      performance.mark("core-ready");
      watch(0);
      show({ status: "ready", words: "Ready", ms: message.ms });
      return next();
    case "loaded":
      more = message.more;
      return asked || next();
    case "boot-failed":
      return fail(message.message, message.detail);
    case "crashed":
      return crashed(message.message);
  }
}

function expectSignOfLife() {
  watch(SLOW_START, () => {
    show({ words: "Still starting: slower than usual" });
    watch(SILENT_START - SLOW_START, () => fail("The calculator did not start.", "No sign of life for a minute."));
  });
}

/** The interpreter is gone: everything asked fails; it is started again, but not for ever.
 * @param {string} detail */
function crashed(detail) {
  if (state.value.status === "starting" || ++crashes > 1) return fail("The calculator stopped.", detail);
  rejectAll(new CoreError({ code: "core-crashed", message: "The calculator stopped and is starting again.", hint: "Try that again.", detail }));
  restart();
}

/** @param {string} words @param {string} detail */
function fail(words, detail) {
  watch(0);
  worker?.terminate();
  worker = undefined;
  crashes = 0;
  show({ status: "failed", words, detail });
  rejectAll(notRunning());
}

/** @param {unknown} error */
function rejectAll(error) {
  const all = asked ? [asked, ...waiting] : waiting;
  asked = undefined;
  waiting = [];
  for (const question of all) question.reject(error);
}

// ---- small parts -------------------------------------------------------------------------------

/** @param {Partial<State>} change */
function show(change) {
  state.value = { ...state.value, ...change };
}

/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer;

/** One timer guards against silence; 0 calls it off. @param {number} ms @param {() => void} [then] */
function watch(ms, then) {
  clearTimeout(timer);
  if (then) timer = setTimeout(then, ms);
}

function notRunning() {
  const { words, detail } = state.value;
  return new CoreError({ code: "core-not-running", message: words, hint: "Your rigs are kept. Start it again.", detail });
}

/** @param {string} why */
function aborted(why) {
  return new DOMException(why, "AbortError");
}

restart();
