/** What every page does behind the scenes: sends the counts of all pairs, and keeps what is needed without network. */

import { loadData, loadPair, savePairData } from "./db.js";
import { keepBack, listPairs } from "./pairs-here.js";
import { FullError, KnownPairError, UnknownPairError, exchange, fetchPair } from "./sync.js";
import { renewRuntime } from "../phone/runtime.js";
import { keepPlans } from "./whole-pair.js";

/** Milliseconds until counts that could not be sent are tried again. */
const AGAIN = 30_000;
/** Answers that stay the same until somebody does something about it. Any other may come of a server that is busy. */
const FINAL = [FullError, KnownPairError, UnknownPairError];

let timer = 0;

/** Send what waits here, of every pair but the one that is knitted on this page. */
export async function sendAll() {
  clearTimeout(timer);
  let left = false;
  for (const { link, unsent, made, proposed } of await pairs()) {
    if (!(unsent || made || proposed === "waits") || isKnitted(link)) continue;
    try {
      while (await exchange(link));
    } catch (error) {
      left ||= !FINAL.some((kind) => error instanceof kind);
    }
  }
  if (left) timer = setTimeout(sendAll, AGAIN);
}

/**
 * Fetch the plan page, the written pattern, yarn, logbook, rounds and file of pairs that are listed here without them.
 * @param {ServiceWorker | null} [worker]
 */
export async function keepPairs(worker) {
  const links = (await pairs()).map(({ link }) => link);
  keepBack(links.length > 0);
  // An accepted change leads to the knit page, and the plan that is kept is another from then on.
  const anew = links.filter((link) => isKnitted(link) || isAnswered(link)).flatMap(plansOf);
  worker?.postMessage({ keep: [...anew, ...links.flatMap(plansOf), ...links.flatMap(recordsOf)], anew });
  // A pair that the server no longer knows is reported when it is opened.
  for (const link of links) await keepRounds(link).catch(() => undefined);
  await renewRuntime(worker).catch(() => undefined);
}

/** The document hears of rounds that were not here as `fetched`. @param {string} link */
async function keepRounds(link) {
  const known = await loadData(link);
  const data = known ?? (await fetchPair(link));
  const { record } = await loadPair(link);
  if (!record) return; // forgotten in the meantime
  if (!known) {
    await savePairData(link, data);
    document.dispatchEvent(new Event("fetched"));
  }
  if (!record.epoch && !isKnitted(link)) await exchange(link); // the whole logbook, where it was never asked for
  await keepPlans(link, data);
}

/** Private windows of some browsers have no database, and so nothing to send. */
function pairs() {
  return listPairs().catch(() => []);
}

/** Whether this is the knit page of a pair, which sends and asks for that one by itself. @param {string} link */
function isKnitted(link) {
  return location.pathname === `/pair/${link}/knit`;
}

/** Whether this is its plan, with what was just done to it. @param {string} link */
function isAnswered(link) {
  return location.pathname === `/pair/${link}` && document.getElementById("answer") !== null;
}

/** @param {string} link */
function plansOf(link) {
  return [`/pair/${link}`, `/pair/${link}/pattern`];
}

/** They are made from the whole logbook, so they are fetched once and kept again when they are looked at. @param {string} link */
function recordsOf(link) {
  return [`/pair/${link}/yarn`, `/pair/${link}/logbook`];
}
