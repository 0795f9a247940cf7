// Makes the Python that the page ships, inside the very interpreter that will run it.
//
//   node bundle.mjs WHEELS OUT
//
// 1. micropip installs the wheels of WHEELS (pint, what pint needs, pycore) into Pyodide: the real target resolves them.
// 2. A second, clean interpreter imports and exercises pycore, so that we learn which modules it needs; it compiles those
//    to bytecode and zips them: python.zip (standard library), libs.zip (pint) and core.zip (pycore and its data).

import { mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { loadPyodide } from "pyodide";

const [wheels, out] = process.argv.slice(2);
const INSIDE = ["bundle_inside.py", "start_inside.py"];
const SITE = "/site";

async function interpreter() {
  const pyodide = await loadPyodide();
  for (const name of INSIDE) {
    pyodide.FS.writeFile(`/home/pyodide/${name}`, readFileSync(fileURLToPath(new URL(name, import.meta.url)), "utf8"));
  }
  return pyodide;
}

/** Installs every wheel with micropip and returns the installed tree as one archive. */
async function install() {
  const pyodide = await interpreter();
  pyodide.FS.mkdir("/wheels");
  for (const name of readdirSync(wheels)) {
    const bytes = new Uint8Array(readFileSync(join(wheels, name)));
    if (name.startsWith("micropip-")) pyodide.unpackArchive(bytes, "wheel", { extractDir: "/home/pyodide" });
    else pyodide.FS.writeFile(`/wheels/${name}`, bytes);
  }
  await pyodide.runPythonAsync(`import bundle_inside; await bundle_inside.install("/wheels", "/tree.zip")`);
  return pyodide.FS.readFile("/tree.zip");
}

/** Compiles what pycore needs and writes the three archives. */
async function compile(tree) {
  const pyodide = await interpreter();
  pyodide.FS.mkdir(SITE);
  pyodide.unpackArchive(tree, "zip", { extractDir: SITE });
  pyodide.FS.mkdir("/out");
  const report = pyodide.runPython(`import bundle_inside; bundle_inside.compile_all("${SITE}", "/out")`);
  mkdirSync(out, { recursive: true });
  for (const name of ["python.zip", "libs.zip", "core.zip"]) {
    writeFileSync(join(out, name), pyodide.FS.readFile(`/out/${name}`));
  }
  console.log(report);
}

try {
  await compile(await install());
} catch (error) {
  // Left alone, Node would print the line it happened on: the whole of Pyodide.
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
