/** What every page does behind the scenes: sends the counts of all pairs, and keeps what is needed without network. */

import { loadData, loadPair, savePairData } from "./db.js";
import { listPairs } from "./pairs-here.js";
import { RefusedError, exchange, fetchPair } from "./sync.js";

/** Milliseconds until counts that could not be sent are tried again. */
const AGAIN = 30_000;

let timer = 0;

/** Send what waits here, of every pair but the one whose knit page this is: that one sends by itself. */
export async function sendAll() {
  clearTimeout(timer);
  let left = false;
  for (const { link, unsent } of await pairs()) {
    if (!unsent || location.pathname === `/pair/${link}/knit`) continue;
    try {
      while (await exchange(link));
    } catch (error) {
      left ||= !(error instanceof RefusedError);
    }
  }
  if (left) timer = setTimeout(sendAll, AGAIN);
}

/**
 * Fetch the plan page, the written pattern and the rounds of pairs that are listed here without them.
 * @param {ServiceWorker | null} [worker]
 */
export async function keepPairs(worker) {
  const links = (await pairs()).map(({ link }) => link);
  // An accepted change leads to the knit page, and the plan that is kept is another from then on.
  const anew = links.filter((link) => location.pathname === `/pair/${link}/knit`).flatMap(plansOf);
  worker?.postMessage({ keep: [...anew, ...links.flatMap(plansOf)], anew });
  for (const link of links) {
    if (await loadData(link)) continue;
    // A pair that the server no longer knows is told of when it is opened.
    await fetchRounds(link).catch(() => undefined);
  }
}

/** The document hears of it as `fetched`. @param {string} link */
async function fetchRounds(link) {
  const data = await fetchPair(link);
  if (!(await loadPair(link)).record) return; // forgotten in the meantime
  await savePairData(link, data);
  document.dispatchEvent(new Event("fetched"));
}

/** Private windows of some browsers have no database, and so nothing to send. */
function pairs() {
  return listPairs().catch(() => []);
}

/** @param {string} link */
function plansOf(link) {
  return [`/pair/${link}`, `/pair/${link}/pattern`];
}
