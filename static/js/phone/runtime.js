/** What lets this phone calculate by itself: kept in a cache of its own, apart from the files of the pages. */

/** `bytes`: what is loaded. `files`: where each file is, under a digest of what it holds.
 * @typedef {{bytes: number, files: Record<string, string>}} Runtime */

export const CACHE = "runtime";
const INDEX = "/runtime";
/** The form of a new pair, which a phone that calculates answers by itself. */
const FORM = "/plan";

/** What the server offers, null where it has none or cannot be reached. @returns {Promise<Runtime | null>} */
export async function offered() {
  if (!("caches" in self) || !("WebAssembly" in self)) return null;
  const response = await fetch(INDEX, { cache: "no-cache" }).catch(() => null);
  /** @type {Runtime | null} */
  const runtime = response?.ok ? await response.json() : null;
  return runtime?.bytes ? runtime : null;
}

/** What is kept here, null where there is none. @returns {Promise<Runtime | null>} */
export async function runtimeHere() {
  if (!("caches" in self) || !(await caches.has(CACHE))) return null;
  const response = await (await caches.open(CACHE)).match(INDEX);
  return response ? response.json() : null;
}

/**
 * Keep it here; what is here of it already is not loaded again. Whole only when the promise resolves.
 * @param {Runtime} runtime
 * @param {(part: number) => void} [told] how much of the files is here, 0 to 1
 */
export async function keepRuntime(runtime, told = () => undefined) {
  const cache = await caches.open(CACHE);
  const wanted = Object.values(runtime.files);
  for (const [number, url] of wanted.entries()) {
    told(number / wanted.length);
    if (!(await cache.match(url))) await cache.add(url);
  }
  await cache.put(INDEX, new Response(JSON.stringify(runtime)));
  navigator.serviceWorker?.controller?.postMessage({ keep: [FORM] });
  for (const { url } of await cache.keys()) {
    const { pathname } = new URL(url);
    if (pathname !== INDEX && !wanted.includes(pathname)) await cache.delete(url);
  }
}

/**
 * Where the server has another one by now, keep that instead; and keep the page of what it is for.
 * @param {ServiceWorker | null} [worker]
 */
export async function renewRuntime(worker) {
  const here = await runtimeHere();
  if (here) worker?.postMessage({ keep: [FORM] });
  const there = here && (await offered());
  if (there && JSON.stringify(there) !== JSON.stringify(here)) await keepRuntime(there);
}

export function forgetRuntime() {
  return caches.delete(CACHE);
}
