/** The page that asks before a pair or a design is deleted: first on the server, then here, then back to the first page. */

import { got } from "../lib/idb.js";
import { transact } from "../pair/db.js";
import { forgetDesign } from "./designs-here.js";
import { nobodysGauge } from "../pair/gauges.js";
import { forgetPair } from "../pair/pairs-here.js";

/** Milliseconds after which a silent server counts as none. */
const PATIENCE = 20_000;

const form = /** @type {HTMLFormElement} */ (document.querySelector("form[data-what]"));
const { what = "", link = "" } = form.dataset;

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  tell("");
  const gone = await deleted();
  if (!gone) return;
  // Where the browser lets nothing be kept, there is nothing here to take away.
  await (what === "pair" ? erasePair() : forgetDesign(link))?.catch(() => undefined);
  location.replace(gone);
});

/** @returns {Promise<string>} where to go once the server no longer has it; else empty, and the page says why */
async function deleted() {
  try {
    const answer = await fetch(form.action, {
      method: "POST",
      body: new FormData(form),
      signal: AbortSignal.timeout(PATIENCE),
    });
    if (answer.ok) return answer.url;
    if (answer.status === 404) return "/";
    tell(`It was not deleted (${answer.status}). Load this page again, and try once more.`);
  } catch {
    tell("Deleting needs the server, and it cannot be reached just now. Nothing was deleted.");
  }
  return "";
}

/** @param {string} words */
function tell(words) {
  const status = document.getElementById("delete-said");
  if (status) status.textContent = words;
}

/** Take away all that this browser has of the pair; what it taught of the knitter's gauge stays, without its link. */
async function erasePair() {
  nobodysGauge(link);
  await erasePages();
  await forgetPair(link);
  await transact("readwrite", async ({ meta }) => {
    const keys = await got(meta.getAllKeys());
    // The steps of a round that is worked by hand are kept under a key that has the link in it.
    keys
      .filter((/** @type {IDBValidKey} */ key) => Array.isArray(key) && key.includes(link))
      .forEach((/** @type {IDBValidKey} */ key) => meta.delete(key));
  });
}

/** The pages that the worker keeps; there is no such cache on plain http. */
async function erasePages() {
  if (!("caches" in window)) return;
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    const pages = (await cache.keys()).filter(({ url }) => new URL(url).pathname.split("/")[2] === link);
    await Promise.all(pages.map((page) => cache.delete(page, { ignoreVary: true })));
  }
}
