// The page may start two scripts besides its own modules: the calculator's worker and the service worker. Nothing else.

const ALLOWED = new Set([new URL("worker.js", import.meta.url).href, new URL("../../sw.js", import.meta.url).href]);

/** @type {{createScriptURL(url: string): unknown}} */
const rule = {
  createScriptURL(url) {
    if (!ALLOWED.has(url)) throw new TypeError(`${url} is not a script of this app.`);
    return url;
  },
};

// The policy's name stands in the Content-Security-Policy. Browsers without Trusted Types take the plain text.
const factory = /** @type {any} */ (globalThis).trustedTypes;
const policy = factory ? factory.createPolicy("app", rule) : rule;

export const WORKER = /** @type {URL} */ (policy.createScriptURL(new URL("worker.js", import.meta.url).href));
export const SERVICE_WORKER = /** @type {URL} */ (policy.createScriptURL(new URL("../../sw.js", import.meta.url).href));
