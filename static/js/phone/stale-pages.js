/** Pages of a pair that were kept for times without network, and say no longer what is so. */

/** The header that the worker knows a page by of which no server has the pair. */
export const ONLY_HERE = "only-here";
/** The page in which this phone makes others (templates/sw.js). */
const MADE = "/made-here";

/** A page of a pair that no server has. @param {string} html */
export function onlyHere(html) {
  return new Response(html, { headers: { "Content-Type": "text/html; charset=utf-8", [ONLY_HERE]: "yes" } });
}

/** They are fetched again when they are wanted. @param {string} link */
export function forgetPages(link) {
  return eachKept(link, (cache, path) => cache.delete(path));
}

/** The plan has become another here: until they can be fetched this phone makes them. @param {string} link */
export function makeAnew(link) {
  const anew = eachKept(link, async (cache, path) => {
    const shell = (await cache.match(path))?.headers.has(ONLY_HERE) && (await cache.match(MADE));
    if (shell) await cache.put(path, onlyHere(await shell.text()));
    else await cache.delete(path);
  });
  return anew.catch(() => undefined); // the change is kept by now, also where there is no room for a page
}

/** @param {string} link @param {(cache: Cache, path: string) => Promise<unknown>} change of the plan and its pattern */
async function eachKept(link, change) {
  if (!("caches" in self)) return;
  for (const name of await caches.keys()) {
    if (!name.startsWith("tapeline-")) continue;
    const cache = await caches.open(name);
    for (const path of [`/pair/${link}`, `/pair/${link}/pattern`]) await change(cache, path);
  }
}
