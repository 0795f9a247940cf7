// Starts the shipped Python and opens pycore's door. The page's worker and the tests under Node both come through here.

/**
 * @typedef {object} Place Where the parts lie; `bytes` fetches one.
 * @property {string} pyodide folder of Pyodide's own files, ending in "/"
 * @property {string} core folder of python.zip, libs.zip and core.zip, ending in "/"
 * @property {(url: string) => Promise<Uint8Array>} bytes
 *
 * @typedef {object} Door
 * @property {(text: string) => string} ask JSON text in, JSON text out
 * @property {() => boolean} loadMore loads what the first answer did not need, a part at a time; whether there may be more
 * @typedef {typeof import("pyodide").loadPyodide} LoadPyodide
 */

const HOME = "/lib";
const ARCHIVES = ["core.zip", "libs.zip"];

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
  const archives = Promise.all(ARCHIVES.map((name) => place.bytes(place.core + name)));
  archives.catch(() => {}); // awaited below; without this a failed fetch would also be reported as unhandled
  const pyodide = await loadPyodide({
    indexURL: place.pyodide,
    stdLibURL: place.core + "python.zip",
    lockFileContents: EMPTY_LOCK,
    packageBaseUrl: place.core,
    stdout: () => {},
  });
  stage("Loading the calculator");
  const path = pyodide.pyimport("sys").path;
  for (const [i, name] of ARCHIVES.entries()) {
    pyodide.FS.writeFile(`${HOME}/${name}`, (await archives)[i]);
    path.append(`${HOME}/${name}`); // Python imports from the archive itself: unpacking it takes longer than reading what is wanted
  }
  const start = pyodide.pyimport("start_inside");
  const handle = start.door();
  return { ask: (text) => handle(text), loadMore: () => start.load_more() };
}
