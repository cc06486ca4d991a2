/**
 * Python with the modules that calculate, begun anew or by an image of its memory. The compiled library of the modules is
 * loaded before Python begins, each time in the same way: its functions are then where the image knows them.
 */

/** Where the modules are among the files of Python. */
const MODULES = "/modules";

/** `loadPyodide` and `create`: what the engine's two scripts give. `engine`: the address of its folder. `library`: path
 * among the modules, and address.
 * @typedef {{loadPyodide: (config: object) => Promise<any>, create: (settings: any) => Promise<any>, engine: string,
 *   library: [string, string]}} Parts */

/**
 * @param {Parts} parts
 * @param {Uint8Array} code the archive of modules (companion/on_phone/code.py)
 * @returns {Promise<{python: any, image: Uint8Array}>} `image`: what to begin by the next time
 */
export async function startAnew(parts, code) {
  const python = await start(parts, { _makeSnapshot: true });
  python.unpackArchive(code, "zip", { extractDir: MODULES });
  python.FS.writeFile(inPlace(parts), ""); // looked for and never read: it is loaded
  python.pyimport("site").addsitedir(MODULES);
  const { ready } = python.pyimport("companion.on_phone.answer");
  ready();
  ready.destroy();
  return { python, image: python.makeMemorySnapshot() };
}

/** @param {Parts} parts @param {Uint8Array} image */
export function startFromImage(parts, image) {
  return start(parts, { _loadSnapshot: image }, image.length);
}

/**
 * @param {Parts} parts
 * @param {object} config
 * @param {number} [bytes] of memory that Python needs to begin with
 */
function start(parts, config, bytes = 0) {
  const path = inPlace(parts);
  const createPyodideModule = async (/** @type {any} */ settings) => {
    const { locateFile } = settings;
    settings.locateFile = (/** @type {string} */ name) => (name === path ? parts.library[1] : locateFile(name));
    settings.dynamicLibraries = [path];
    const module = await parts.create(settings);
    if (bytes > module.HEAP8.length) module.growMemory(bytes);
    return module;
  };
  return parts.loadPyodide({ indexURL: parts.engine, createPyodideModule, ...config });
}

/** @param {Parts} parts */
function inPlace({ library: [path] }) {
  return `${MODULES}/${path}`;
}
