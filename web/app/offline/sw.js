// The service worker. It holds one closed list of files, all of one build, each checked against its hash; it never
// mixes builds, caches nothing else, and gives way to a new build only when the page says so.

/**
 * @typedef {{url: string, integrity: string, bytes: number, type?: string}} Part type: set for what comes in the pack
 * @typedef {object} Build
 * @property {string} id
 * @property {string} version
 * @property {string} date
 * @property {{[name: string]: string}} headers of the small files, whether the host sends them or not
 * @property {Part} pack all small files at one go: on a weak signal a hundred requests take longer than their bytes
 * @property {Part[]} files
 */

/** @type {Build} */
const BUILD = /* build */ { id: "", version: "", date: "", headers: {}, pack: { url: "", integrity: "", bytes: 0 }, files: [] };

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const PREFIX = "feed-to-frame-"; // the origin may be shared: other caches are not ours
const CACHE = PREFIX + BUILD.id;
const PAGE = "./";
const PACK = href(BUILD.pack.url);
const AT_ONCE = 3;
const FILES = new Map(BUILD.files.map((file) => [href(file.url), file]));
const TOTAL = BUILD.files.reduce((sum, file) => sum + (file.type ? 0 : file.bytes), BUILD.pack.bytes);

worker.addEventListener("install", (event) => event.waitUntil(install()));
worker.addEventListener("activate", (event) => event.waitUntil(activate()));
worker.addEventListener("fetch", respond);
worker.addEventListener("message", (event) => {
  if (event.data?.type === "SKIP_WAITING") worker.skipWaiting();
  if (event.data?.type === "REFILL") event.waitUntil(install().then(() => ((texts = undefined), tell({ type: "REFILLED" }))));
  if (event.data?.type === "STATUS") event.waitUntil(status().then((found) => event.ports[0].postMessage(found)));
});

// ---- install: all files or none ----------------------------------------------------------------

async function install() {
  try {
    await fill();
  } catch (error) {
    await caches.delete(CACHE); // half a version is worse than none
    await tell({ type: "INSTALL_FAILED", message: /** @type {Error} */ (error).message, total: TOTAL });
    throw error;
  }
}

/** The pack, which has the page in it, goes in last: a cache that has it has everything. */
async function fill() {
  const cache = await caches.open(CACHE);
  const kept = await earlierCaches();
  const queue = BUILD.files.filter((file) => !file.type);
  let done = 0;
  /** @param {Part} file */
  const take = async (file) => {
    await cache.put(href(file.url), await obtain(file, kept));
    await tell({ type: "PROGRESS", done: (done += file.bytes), total: TOTAL });
  };
  const lane = async () => {
    for (let file = queue.shift(); file; file = queue.shift()) await take(file);
  };
  const lanes = Array.from({ length: AT_ONCE }, () => lane().catch((error) => (queue.splice(0), Promise.reject(error))));
  // All lanes have come to rest before a failure is told, or a late one would report progress after it.
  for (const end of await Promise.allSettled(lanes)) if (end.status === "rejected") throw end.reason;
  await take(BUILD.pack);
}

/** From an earlier version's cache if the bytes are the same, else from the network, checked by the browser.
 * @param {Part} file @param {Cache[]} kept */
async function obtain(file, kept) {
  for (const cache of kept) {
    const response = await cache.match(href(file.url));
    if (response && (await hash(response.clone())) === file.integrity) return response;
  }
  return fetched(file);
}

/** @param {Part} file */
async function fetched(file) {
  const request = new Request(href(file.url), { cache: "no-cache", integrity: file.integrity });
  const response = await fetch(request).catch(() => undefined);
  if (!response?.ok) throw new Error(`${file.url} could not be fetched whole.`);
  return response;
}

async function earlierCaches() {
  const names = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  return Promise.all(names.map((name) => caches.open(name)));
}

/** @param {Response} response */
async function hash(response) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await response.arrayBuffer()));
  return "sha256-" + btoa(String.fromCharCode(...digest));
}

// ---- activate: only now are earlier versions thrown away ---------------------------------------

async function activate() {
  const names = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(names.map((name) => caches.delete(name)));
  await worker.clients.claim();
}

// ---- answering ---------------------------------------------------------------------------------

/** @param {FetchEvent} event */
function respond(event) {
  const url = event.request.url.split(/[?#]/)[0];
  const file = FILES.get(url) ?? (event.request.mode === "navigate" ? FILES.get(href(PAGE)) : undefined);
  if (event.request.method === "GET" && file) event.respondWith(serve(file, event.request));
}

/** @param {Part} file @param {Request} request */
async function serve(file, request) {
  const cache = await caches.open(CACHE);
  if (!file.type) return (await cache.match(href(file.url))) ?? missing(cache, file, request);
  const small = await unpacked(cache);
  return small ? whole(file, small[file.url]) : fetch(request);
}

/** The texts of the small files, read once in this worker's life: a hundred looks into the cache would hold the page up.
 * @type {Promise<{[url: string]: string} | undefined> | undefined} */
let texts;

/** Not there: the system threw it away, and all comes from the network, whatever version is there.
 * @param {Cache} cache */
function unpacked(cache) {
  texts ??= cache.match(PACK).then((pack) => pack?.json()).catch(() => undefined);
  return texts;
}

/** A small file with the headers that it has in production. @param {Part} file @param {string} text */
function whole({ type = "" }, text) {
  return new Response(text, { headers: { ...BUILD.headers, "Content-Type": type } });
}

/** The system threw a big file away. With the page gone too, it comes from the network, whatever version is there; else
 * only the very bytes of this version will do.
 * @param {Cache} cache @param {Part} file @param {Request} request */
async function missing(cache, file, request) {
  if (!(await cache.match(PACK))) return fetch(request);
  const response = await fetched(file);
  await cache.put(href(file.url), response.clone());
  return response;
}

// ---- what the page may ask ---------------------------------------------------------------------

async function status() {
  const cache = await caches.open(CACHE);
  const held = new Set((await cache.keys()).map((request) => request.url));
  const lacking = [BUILD.pack, ...BUILD.files].filter((file) => !file.type && !held.has(href(file.url))).map((file) => file.url);
  return { version: BUILD.version, id: BUILD.id, date: BUILD.date, bytes: TOTAL, files: BUILD.files.length, lacking };
}

/** @param {object} message */
async function tell(message) {
  for (const client of await worker.clients.matchAll({ includeUncontrolled: true, type: "window" })) client.postMessage(message);
}

/** @param {string} url relative to this script */
function href(url) {
  return new URL(url, worker.location.href).href;
}
