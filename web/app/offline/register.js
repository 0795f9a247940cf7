// Whether the app works without a network, in words that are checked before they are said, and the way to a new version.

import { signal } from "@preact/signals";
import { SERVICE_WORKER } from "../core/trusted_url.js";

/**
 * @typedef {object} Offline
 * @property {"unsupported" | "waiting" | "getting ready" | "ready" | "failed"} status
 * @property {string} words for people; "ready to work offline" only once every file has been found in the cache
 * @property {number} done bytes so far
 * @property {number} total bytes of the whole app
 * @property {string} version of the app that runs, "" until known
 * @property {string} date when that version was made
 *
 * @typedef {{version: string, id: string, date: string, bytes: number, files: number, lacking: string[]}} Status
 */

const HOUR = 3_600_000;
const TAKE_OVER = 10_000;
const ANSWER = 5_000;
const FRESH = "fresh";
const PREFIX = "feed-to-frame-";

/** @type {import("@preact/signals").Signal<Offline>} */
export const offline = signal(
  /** @type {Offline} */ ({ status: "waiting", words: "Not yet ready to work offline", done: 0, total: 0, version: "", date: "" }),
);

/** Whether a new version lies ready, complete and checked; `apply` switches to it. */
export const updateReady = signal(false);

/** @type {ServiceWorkerRegistration | undefined} */
let registration;
let lastLook = 0;
let applying = false;

// ---- start -------------------------------------------------------------------------------------

/** Registers the service worker; call it once, when the page has nothing more urgent to fetch. */
export async function start() {
  if (!navigator.serviceWorker) {
    return show({ status: "unsupported", words: "This browser cannot keep the app for work offline" });
  }
  takeOffQuery();
  navigator.serviceWorker.addEventListener("message", ({ data }) => hear(data));
  navigator.serviceWorker.startMessages();
  try {
    registration = await navigator.serviceWorker.register(SERVICE_WORKER, { updateViaCache: "none" });
  } catch (error) {
    return failed(String(error));
  }
  if (!registration) return failed("This browser refused to.");
  follow(registration);
  if (navigator.serviceWorker.controller) navigator.serviceWorker.addEventListener("controllerchange", overtaken);
  registration.addEventListener("updatefound", () => registration && follow(registration));
  for (const name of ["visibilitychange", "pageshow", "online"]) addEventListener(name, look, true);
  lastLook = Date.now();
  if (registration.active) await verify();
}

/** @param {ServiceWorkerRegistration} found */
function follow(found) {
  updateReady.value = Boolean(found.waiting && found.active);
  found.installing?.addEventListener("statechange", (event) => {
    const { state } = /** @type {ServiceWorker} */ (event.target);
    if (state === "installed") updateReady.value = Boolean(found.waiting && found.active);
    if (state === "activated") verify();
  });
}

/** Looks for a new version, at most once an hour, and never in the way of anything. */
function look() {
  if (document.hidden || !registration || Date.now() - lastLook < HOUR) return;
  lastLook = Date.now();
  registration.update().catch(() => {}); // no network is no news
}

// ---- what the service worker says --------------------------------------------------------------

/** @param {any} message */
function hear(message) {
  if (message.type === "PROGRESS" && !registration?.active) progress(message);
  if (message.type === "INSTALL_FAILED") installFailed(message);
  if (message.type === "REFILLED") verify();
}

/** @param {{done: number, total: number}} bytes */
function progress({ done, total }) {
  show({ status: "getting ready", words: `Getting ready to work offline: ${mb(done)} of ${mb(total)} MB`, done, total });
}

/** @param {{message: string, total: number}} message */
async function installFailed({ message, total }) {
  if (registration?.active) return; // the version that runs is whole; the next look tries again
  const room = await navigator.storage?.estimate?.();
  const free = room?.quota === undefined ? "" : ` ${mb(room.quota - (room.usage ?? 0))} MB are free, ${mb(total)} MB are needed.`;
  failed(message + free);
}

/** @param {string} detail */
function failed(detail) {
  show({ status: "failed", words: `Not ready to work offline. ${detail}` });
}

/** Asks the active service worker to look for each of its files; only then is the app said to be ready. */
export async function verify() {
  const active = registration?.active;
  const found = active && (await ask(active));
  if (!active || !found) return failed("The stored app does not answer.");
  if (found.lacking.length) {
    active.postMessage({ type: "REFILL" });
    return show({ status: "getting ready", words: `Getting ready to work offline: ${found.lacking.length} files are missing`, version: found.version });
  }
  const words = `Ready to work offline: version ${found.version} of ${found.date}, ${mb(found.bytes)} MB`;
  show({ status: "ready", words, done: found.bytes, total: found.bytes, version: found.version, date: found.date });
}

/** @param {ServiceWorker} active @returns {Promise<Status | undefined>} */
function ask(active) {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(resolve, ANSWER, undefined);
    active.postMessage({ type: "STATUS" }, [port2]);
  });
}

// ---- a new version, and the way out of a broken one --------------------------------------------

/** Switches to the version that waits and loads the page anew. Save everything first. */
export async function apply() {
  const waiting = registration?.waiting;
  applying = true;
  if (waiting) {
    const taken = takenOver(waiting);
    waiting.postMessage({ type: "SKIP_WAITING" });
    await taken;
  }
  reload();
}

/** Another page of the app switched to a new version: this one must follow before it fetches anything more. */
function overtaken() {
  if (applying) return;
  if (document.hidden) reload();
  else updateReady.value = true;
}

/** The event alone is not enough: WebKit does not always send it. @param {ServiceWorker} next @returns {Promise<void>} */
function takenOver(next) {
  return new Promise((resolve) => {
    const poll = setInterval(() => next.state === "activated" && done(), 200);
    const late = setTimeout(done, TAKE_OVER);
    navigator.serviceWorker.addEventListener("controllerchange", done, { once: true });
    function done() {
      clearInterval(poll);
      clearTimeout(late);
      resolve();
    }
  });
}

/** Throws the stored app away, never the stored rigs, and fetches it again. Needs the network. */
export async function repair() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(PREFIX)).map((name) => caches.delete(name)));
  await registration?.unregister();
  reload();
}

/** A query that is used once keeps WebKit from showing the old page again. */
function reload() {
  const url = new URL(location.href);
  url.searchParams.set(FRESH, Date.now().toString(36));
  location.replace(url);
}

function takeOffQuery() {
  const url = new URL(location.href);
  if (!url.searchParams.has(FRESH)) return;
  url.searchParams.delete(FRESH);
  history.replaceState(history.state, "", url);
}

// ---- small parts -------------------------------------------------------------------------------

/** @param {Partial<Offline>} change */
function show(change) {
  offline.value = { ...offline.value, ...change };
}

/** @param {number} bytes */
function mb(bytes) {
  return (bytes / 1e6).toFixed(1);
}
