/** What a copy of a pair has counted, taken into the pair where it is kept here: each entry once. */

import { answerTo } from "../lib/idb.js";
import { entriesOf, settle, transact } from "./db.js";
import { HIGHEST_CLOCK, endsOf, laterClock } from "./logbook.js";

/** @typedef {import("./logbook.js").Entry} Entry */

const UUID = /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/**
 * The link of the pair here that a copy was made of.
 * @param {string} mark
 * @returns {Promise<string | undefined>}
 */
export function pairOfMark(mark) {
  return transact("readonly", async ({ pairs, data }) => {
    /** @type {string[]} */
    const links = await answerTo(pairs.getAllKeys());
    const marks = await Promise.all(links.map(async (link) => (await answerTo(data.get(link)))?.mark));
    return links[marks.indexOf(mark)];
  });
}

/**
 * Keep the entries that are not here, to be sent like what was counted here. What is here stays as it is.
 * @param {string} link
 * @param {Entry[]} entries
 * @throws {Error} where they are no entries of a logbook
 */
export function takeInCounts(link, entries) {
  if (!entries.every(sound)) throw new Error("the file is damaged");
  return transact("readwrite", async ({ pairs, log }) => {
    const [record, keys] = await Promise.all([answerTo(pairs.get(link)), answerTo(log.getAllKeys(entriesOf(link)))]);
    const here = new Set(keys.map((/** @type {string[]} */ [, id]) => id));
    const added = entries.filter(({ id }) => !here.has(id));
    added.forEach((entry) => log.put({ ...entry, link, sent: 0 }));
    const all = await answerTo(log.getAll(entriesOf(link)));
    settle(record, 1, endsOf(all, 1));
    settle(record, 2, endsOf(all, 2));
    record.clock = added.reduce((highest, { clock }) => laterClock(highest, clock), record.clock);
    pairs.put(record);
  });
}

/** Whether the page can go on from it; the server looks at the rest. @param {Entry} entry */
function sound({ id, device, clock, at, sock, kind, round, after = [] }) {
  return (
    [id, device].every((name) => UUID.test(name)) &&
    [clock, round].every(Number.isSafeInteger) &&
    clock <= HIGHEST_CLOCK &&
    round >= 0 &&
    [1, 2].includes(sock) &&
    [at, kind].every((word) => typeof word === "string") &&
    Array.isArray(after)
  );
}
