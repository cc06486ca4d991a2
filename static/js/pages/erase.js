/** Takes away what this browser has of a pair or a design that was deleted on the server. */

import { answerTo } from "../lib/idb.js";
import { transact } from "../pair/db.js";
import { forgetDesign } from "./designs-here.js";
import { nobodysGauge } from "../pair/gauges.js";
import { forgetPair } from "../pair/pairs-here.js";

/** @param {string} what a pair or a design @param {string} link */
export async function erase(what, link) {
  // Where the browser lets nothing be kept, there is nothing here to take away.
  await (what === "pair" ? erasePair(link) : forgetDesign(link))?.catch(() => undefined);
}

/** Take away all that this browser has of the pair; what it taught of the knitter's gauge stays, without its link. @param {string} link */
async function erasePair(link) {
  nobodysGauge(link);
  await erasePages(link);
  await forgetPair(link);
  await transact("readwrite", async ({ meta }) => {
    const keys = await answerTo(meta.getAllKeys());
    // The steps of a round that is worked by hand are kept under a key that has the link in it.
    keys
      .filter((/** @type {IDBValidKey} */ key) => Array.isArray(key) && key.includes(link))
      .forEach((/** @type {IDBValidKey} */ key) => meta.delete(key));
  });
}

/** The pages that the worker keeps; there is no such cache on plain http. @param {string} link */
async function erasePages(link) {
  if (!("caches" in window)) return;
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    const pages = (await cache.keys()).filter(({ url }) => new URL(url).pathname.split("/")[2] === link);
    await Promise.all(pages.map((page) => cache.delete(page, { ignoreVary: true })));
  }
}
