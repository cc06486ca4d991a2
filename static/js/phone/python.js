/**
 * Begins the Python that is kept on this phone. The first time it keeps what makes the next times quick: an image of the
 * memory of a Python that has begun, and the modules as byte code.
 */

import { CACHE, runtimeHere } from "./runtime.js";

/** `answer`: see companion/on_phone/answer.py. `keep`: what is not kept yet.
 * @typedef {{answer: (name: string, question: string) => string, keep: () => Promise<void>}} Python */

const IMAGE = "memory.image";
const COMPILED = "compiled.zip";

/** @returns {Promise<Python>} */
export async function startPython() {
  const runtime = await runtimeHere();
  if (!runtime) throw new Error("Python is not on this phone");
  const { files } = runtime;
  const engine = files["pyodide.mjs"];
  const [{ loadPyodide }, image, compiled] = await Promise.all([
    import(engine),
    kept(files, IMAGE),
    kept(files, COMPILED),
  ]);
  const indexURL = new URL(".", new URL(engine, location.origin)).href;
  const python = await loadPyodide({
    indexURL,
    ...(image ? { _loadSnapshot: new Uint8Array(image) } : { _makeSnapshot: true }),
  });
  const site = python.runPython("import site; site.getsitepackages()[0]");
  const archives = compiled ? [compiled] : [await load(files["core.zip"]), await load(files["code.zip"])];
  for (const archive of archives) python.unpackArchive(archive, "zip", { extractDir: site });
  python.pyimport("importlib").invalidate_caches();
  if (!image) {
    python.pyimport("companion.on_phone.early").destroy();
    // Not waited for, and done without where there is no room for it.
    keepMade(files, IMAGE, python.makeMemorySnapshot()).catch(() => undefined);
  }
  const { answer } = python.pyimport("companion.on_phone.answer");
  return { answer, keep: () => (compiled ? Promise.resolve() : keepCompiled(python, files, site)) };
}

/** @param {any} python @param {Record<string, string>} files @param {string} site where the modules are */
async function keepCompiled(python, files, site) {
  const made = python.pyimport("companion.on_phone.compiled").compiled_archive(site);
  await keepMade(files, COMPILED, made.toJs());
  made.destroy();
}

/** @param {string} url */
async function load(url) {
  return (await fetch(url)).arrayBuffer();
}

/**
 * The address of what was made here from these files, and from no others.
 * @param {Record<string, string>} files
 * @param {string} name
 */
function addressOf(files, name) {
  const digests = new Set(Object.values(files).map((url) => url.split("/")[2]));
  return `/runtime/${[...digests].join("-")}/${name}`;
}

/** @param {Record<string, string>} files @param {string} name */
async function kept(files, name) {
  const found = await (await caches.open(CACHE)).match(addressOf(files, name));
  return found?.arrayBuffer();
}

/** @param {Record<string, string>} files @param {string} name @param {Uint8Array} made */
async function keepMade(files, name, made) {
  await (await caches.open(CACHE)).put(addressOf(files, name), new Response(/** @type {BodyInit} */ (made)));
}
