// Starts the shipped Python and opens pycore's door. The page's worker and the tests under Node both come through here.

/**
 * @typedef {object} Place Where the parts lie; `bytes` fetches one.
 * @property {string} pyodide folder of Pyodide's own files, ending in "/"
 * @property {string} core folder of python.zip, libs.zip and core.zip, ending in "/"
 * @property {(url: string) => Promise<Uint8Array>} bytes
 *
 * @typedef {(text: string) => string} Door JSON text in, JSON text out
 * @typedef {typeof import("pyodide").loadPyodide} LoadPyodide
 */

const SITE = "/lib/python3.14/site-packages";

// Nothing is ever looked up in a package index: all of it is in the three archives.
const EMPTY_LOCK = JSON.stringify({
  info: { abi_version: "2026_0", arch: "wasm32", platform: "emscripten_5_0_3", python: "3.14.2", version: "0" },
  packages: {},
});

/**
 * @param {LoadPyodide} loadPyodide
 * @param {Place} place
 * @param {(words: string) => void} stage told in words what happens now
 * @returns {Promise<Door>}
 */
export async function boot(loadPyodide, place, stage) {
  stage("Starting Python");
  const archives = Promise.all(["libs.zip", "core.zip"].map((name) => place.bytes(place.core + name)));
  archives.catch(() => {}); // awaited below; without this a failed fetch would also be reported as unhandled
  const pyodide = await loadPyodide({
    indexURL: place.pyodide,
    stdLibURL: place.core + "python.zip",
    lockFileContents: EMPTY_LOCK,
    packageBaseUrl: place.core,
    stdout: () => {},
  });
  stage("Unpacking the calculator");
  for (const archive of await archives) pyodide.unpackArchive(archive, "zip", { extractDir: SITE });
  stage("Loading the calculator");
  const gc = pyodide.pyimport("gc");
  gc.disable(); // nothing that loading makes is rubbish: looking for some costs a tenth of the time
  const handle = pyodide.pyimport("pycore.api.door").handle;
  gc.freeze();
  gc.enable();
  return (text) => handle(text);
}
