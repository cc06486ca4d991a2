/** The list of the pairs opened here: adding to it, reading it, and taking a pair away and back. */

import { ALL, entriesOf, fresh, got, transact } from "./db.js";

/** @typedef {import("./db.js").KeptEntry} KeptEntry */
/** @typedef {import("./db.js").PairRecord} PairRecord */
/** @typedef {import("./script.js").PairData} PairData */

/**
 * Note that a pair was opened or made here; what is already kept of it stays.
 * @param {{link: string, title: string, totals?: [number, number]}} pair
 * @returns {Promise<PairRecord>}
 */
export function rememberPair(pair) {
  return transact("readwrite", async ({ pairs }) => {
    const record = { ...((await got(pairs.get(pair.link))) ?? fresh(pair.link)), ...pair };
    record.opened = new Date().toISOString();
    pairs.put(record);
    return record;
  });
}

/**
 * The pairs opened here, the last one first, with how many entries of each are not sent yet.
 * @returns {Promise<(PairRecord & {unsent: number})[]>}
 */
export function listPairs() {
  return transact("readonly", async ({ pairs, log }) => {
    /** @type {PairRecord[]} */
    const records = await got(pairs.getAll());
    records.sort((one, other) => (one.opened < other.opened ? 1 : -1));
    return Promise.all(records.map(async (record) => ({ ...record, unsent: await countUnsent(log, record.link) })));
  });
}

/**
 * Forget a pair here; the server keeps what was sent. Give the answer to `restorePair` to undo it.
 * @param {string} link
 * @returns {Promise<{record?: PairRecord, data?: PairData, entries: KeptEntry[], photos: [IDBValidKey, Blob][]}>}
 */
export function forgetPair(link) {
  return transact("readwrite", async ({ pairs, data, log, meta, photos }) => {
    const keys = await got(photos.getAllKeys(entriesOf(link)));
    const forgotten = {
      record: await got(pairs.get(link)),
      data: await got(data.get(link)),
      entries: await got(log.getAll(entriesOf(link))),
      photos: await Promise.all(keys.map(async (/** @type {IDBValidKey} */ key) => [key, await got(photos.get(key))])),
    };
    pairs.delete(link);
    data.delete(link);
    meta.delete(`check ${link}`);
    log.delete(entriesOf(link));
    photos.delete(entriesOf(link));
    return forgotten;
  }, ALL);
}

/** @param {Awaited<ReturnType<typeof forgetPair>>} forgotten */
export function restorePair({ record, data: rounds, entries, photos: kept }) {
  return transact("readwrite", async ({ pairs, data, log, photos }) => {
    if (record) pairs.put(record);
    if (record && rounds) data.put(rounds, record.link);
    entries.forEach((entry) => log.put(entry));
    kept.forEach(([key, photo]) => photos.put(photo, key));
  }, ALL);
}

/**
 * @param {IDBObjectStore} log
 * @param {string} link
 * @returns {Promise<number>}
 */
function countUnsent(log, link) {
  return got(log.index("unsent").count([link, 0]));
}
