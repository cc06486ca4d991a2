/** Gauge checks that are kept in this browser until the server can calculate their result. */

import { answerTo } from "../lib/idb.js";
import { transact, writerOf } from "./db.js";
import { makeEntry } from "./logbook.js";

/** @typedef {import("./db.js").KeptEntry} KeptEntry */
/** @typedef {import("./logbook.js").Sock} Sock */

/**
 * A check as it is made on a sock at a place. `id` names its entry in the logbook, so that one sent twice is kept once.
 * @typedef {{id: string, sock: Sock, round: number, data: object}} Made
 */

/** @param {string} link */
function keyOf(link) {
  return `check ${link}`;
}

/**
 * Write a check into the logbook, and remember that its result was not seen yet.
 * @param {string} link
 * @param {Made} made
 */
export function keepCheck(link, { id, sock, round, data }) {
  return transact("readwrite", async ({ pairs, log, meta }) => {
    const [record, device] = await writerOf(pairs, meta, link);
    const entry = { ...makeEntry(device, record.clock, sock, "check", round), id, data };
    log.put({ ...entry, link, sent: 0 });
    pairs.put({ ...record, clock: entry.clock });
    meta.put(id, keyOf(link));
  });
}

/**
 * The check whose result was not seen yet.
 * @param {string} link
 * @returns {Promise<KeptEntry | undefined>}
 */
export function unseenCheck(link) {
  return transact("readonly", async ({ log, meta }) => {
    const id = await answerTo(meta.get(keyOf(link)));
    return id && answerTo(log.get([link, id]));
  });
}

/** @param {string} link */
export function sawCheck(link) {
  return transact("readwrite", async ({ meta }) => void meta.delete(keyOf(link)));
}
