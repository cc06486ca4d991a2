/** The list of the pairs opened here: adding to it, reading it, and taking a pair away and back. */

import { answerTo } from "../lib/idb.js";
import { ALL, entriesOf, fresh, transact } from "./db.js";
import { proposalsKey } from "./proposals.js";
import { planKeys } from "./whole-pair.js";

/** @typedef {import("./db.js").KeptEntry} KeptEntry */
/** @typedef {import("./db.js").PairRecord} PairRecord */
/** @typedef {import("./instructions.js").PairData} PairData */

/**
 * Note that a pair was opened or made here; what is already kept of it stays.
 * @param {{link: string, title: string, totals?: [number, number]}} pair
 * @returns {Promise<PairRecord>}
 */
export function rememberPair(pair) {
  return transact("readwrite", async ({ pairs }) => {
    const record = { ...((await answerTo(pairs.get(pair.link))) ?? fresh(pair.link)), ...pair };
    record.opened = new Date().toISOString();
    pairs.put(record);
    keepBack(true);
    return record;
  });
}

/** `unsent`: how many of its entries are not sent yet. @typedef {PairRecord & {unsent: number}} ListedPair */

/**
 * The pairs opened here, the last one first.
 * @returns {Promise<ListedPair[]>}
 */
export function listPairs() {
  return transact("readonly", async ({ pairs, log }) => {
    /** @type {PairRecord[]} */
    const records = await answerTo(pairs.getAll());
    records.sort((one, other) => (one.opened < other.opened ? 1 : -1));
    return Promise.all(records.map(async (record) => ({ ...record, unsent: await countUnsent(log, record.link) })));
  });
}

/** Let the first page know before it is drawn whether there are pairs here. @param {boolean} back */
export function keepBack(back) {
  try {
    if (back) localStorage.setItem("tapeline-back", "");
    else localStorage.removeItem("tapeline-back");
  } catch {
    return; // forbidden: the page then changes once it is drawn
  }
}

/**
 * Forget a pair here; the server keeps what was sent. Give the answer to `restorePair` to undo it.
 * @param {string} link
 * @returns {Promise<{record?: PairRecord, data?: PairData, entries: KeptEntry[], photos: [IDBValidKey, Blob][],
 *   files: [IDBValidKey, any][]}>}
 */
export function forgetPair(link) {
  return transact(
    "readwrite",
    async ({ pairs, data, log, meta, photos }) => {
      const forgotten = {
        record: await answerTo(pairs.get(link)),
        data: await answerTo(data.get(link)),
        entries: await answerTo(log.getAll(entriesOf(link))),
        photos: await keyed(photos, entriesOf(link)),
        files: [...(await keyed(meta, planKeys(link))), ...(await keyed(meta, IDBKeyRange.only(proposalsKey(link))))],
      };
      pairs.delete(link);
      data.delete(link);
      meta.delete(`check ${link}`);
      meta.delete(planKeys(link));
      meta.delete(proposalsKey(link));
      log.delete(entriesOf(link));
      photos.delete(entriesOf(link));
      return forgotten;
    },
    ALL,
  );
}

/** @param {Awaited<ReturnType<typeof forgetPair>>} forgotten */
export function restorePair({ record, data: rounds, entries, photos: kept, files }) {
  return transact(
    "readwrite",
    async ({ pairs, data, log, meta, photos }) => {
      if (record) pairs.put(record);
      if (record && rounds) data.put(rounds, record.link);
      entries.forEach((entry) => log.put(entry));
      kept.forEach(([key, photo]) => photos.put(photo, key));
      files.forEach(([key, file]) => meta.put(file, key));
    },
    ALL,
  );
}

/**
 * What lies in a range, with its keys.
 * @param {IDBObjectStore} store
 * @param {IDBKeyRange} range
 * @returns {Promise<[IDBValidKey, any][]>}
 */
async function keyed(store, range) {
  const [keys, values] = await Promise.all([answerTo(store.getAllKeys(range)), answerTo(store.getAll(range))]);
  return keys.map((/** @type {IDBValidKey} */ key, /** @type {number} */ number) => [key, values[number]]);
}

/**
 * @param {IDBObjectStore} log
 * @param {string} link
 * @returns {Promise<number>}
 */
function countUnsent(log, link) {
  return answerTo(log.index("unsent").count([link, 0]));
}
