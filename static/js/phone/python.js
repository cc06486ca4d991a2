/** Begins the Python that is kept on this phone, from the second time on by an image of its memory. */

import { startAnew, startFromImage } from "./start-python.js";
import { CACHE, runtimeHere } from "./runtime.js";

/** `answer`: see companion/on_phone/answer.py. `kept`: when the image is kept.
 * @typedef {{answer: (name: string, question: string) => string, kept: Promise<void>}} Python */

const IMAGE = "memory.image";

/** @returns {Promise<Python>} */
export async function startPython() {
  const runtime = await runtimeHere();
  if (!runtime) throw new Error("Python is not on this phone");
  const { files } = runtime;
  const [parts, image] = await Promise.all([partsOf(files), keptImage(files)]);
  const { python, kept } = image ? await again(parts, image, files) : await anew(parts, files);
  const { answer } = python.pyimport("companion.on_phone.answer");
  return { answer, kept };
}

/** @param {Record<string, string>} files @returns {Promise<import("./start-python.js").Parts>} */
async function partsOf(files) {
  const engine = files["pyodide.mjs"];
  const [{ loadPyodide }, { default: create }] = await Promise.all([import(engine), import(files["pyodide.asm.mjs"])]);
  const [library] = Object.entries(files).filter(([name]) => name.endsWith(".so"));
  return { loadPyodide, create, engine: new URL(".", new URL(engine, location.origin)).href, library };
}

/**
 * @param {import("./start-python.js").Parts} parts
 * @param {Record<string, string>} files
 */
async function anew(parts, files) {
  const code = new Uint8Array(await (await fetch(files["code.zip"])).arrayBuffer());
  const { python, image } = await startAnew(parts, code);
  // Done without where there is no room for it.
  return { python, kept: keepImage(files, image).catch(() => undefined) };
}

/**
 * @param {import("./start-python.js").Parts} parts
 * @param {ArrayBuffer} image
 * @param {Record<string, string>} files
 */
async function again(parts, image, files) {
  try {
    return { python: await startFromImage(parts, new Uint8Array(image)), kept: Promise.resolve() };
  } catch {
    return anew(parts, files); // and another image takes the place of that one
  }
}

/**
 * The address of what was made here from these files, and from no others.
 * @param {Record<string, string>} files
 */
function addressOf(files) {
  const digests = new Set(Object.values(files).map((url) => url.split("/")[2]));
  return `/runtime/${[...digests].join("-")}/${IMAGE}`;
}

/** @param {Record<string, string>} files */
async function keptImage(files) {
  const found = await (await caches.open(CACHE)).match(addressOf(files));
  return found?.arrayBuffer();
}

/** @param {Record<string, string>} files @param {Uint8Array} image */
async function keepImage(files, image) {
  await (await caches.open(CACHE)).put(addressOf(files), new Response(/** @type {BodyInit} */ (image)));
}
