/**
 * What this browser keeps, in IndexedDB: the pairs opened here, the logbook of each, and the name of this
 * device. Every function is one transaction and resolves when that transaction has completed, because only
 * then does a count survive the browser being killed.
 */

import { answerTo, database } from "../lib/idb.js";
import {
  HIGHEST_CLOCK,
  endsOf,
  goneOnFrom,
  laterClock,
  makeEntry,
  order,
  stepBack,
  uuid,
  withSoundClocks,
} from "./logbook.js";

/** @typedef {import("./logbook.js").Entry} Entry */
/** @typedef {import("./logbook.js").Kind} Kind */
/** @typedef {import("./logbook.js").Sock} Sock */
/** @typedef {import("./instructions.js").PairData} PairData */

/**
 * A pair as kept here. `round`: rounds done of each sock. `ends`: the moves of each that no other goes on from, so
 * that a count need not read the log; a pair kept by an older version has none. `totals`: rounds of each sock, 0 while unknown.
 * `after`: the server's number of the last entry taken in, and `last` its id. `epoch`: the server's at that time, none
 * before the first exchange. `clock`: the highest clock seen. The rounds themselves lie in a store of their own, so
 * that a count reads and writes little. `made`: planned here, and no server has it yet. `otherwise`: the one that got it
 * plans it in another way by now. `proposed`: a change was accepted here that the server has not got, or asks about.
 * @typedef {{link: string, title: string, opened: string, round: Record<Sock, number>,
 *   ends?: Record<Sock, Entry[]>, totals: [number, number], sock: Sock, after: number, last?: string, epoch?: string,
 *   clock: number, made?: boolean, otherwise?: boolean, proposed?: "waits" | "asks"}} PairRecord
 */

/** A pair with what the server has not got, or would not take. It has no record where it was never opened.
 * @typedef {{record?: PairRecord, unsent: KeptEntry[], aside: KeptEntry[]}} Kept */

/** An entry as kept here. `sent`: 0 not yet, 1 the server has it, 2 the server set it aside (`why`).
 * @typedef {Entry & {link: string, sent: 0 | 1 | 2, why?: string}} KeptEntry */

/**
 * What the server answers when entries were sent. `anew`: it no longer holds what it said it had kept.
 * @typedef {{kept: string[], set_aside: {id: string, why: string}[], entries: Entry[], anew: boolean, epoch: string,
 *   cursor: number, last: string | null, revision: number}} Answer
 */

/** @typedef {"pairs" | "data" | "log" | "meta" | "photos"} StoreName */
/** @typedef {import("../lib/idb.js").Stores<StoreName>} Stores */

/** @type {Sock[]} */
const SOCKS = [1, 2];
/** The stores that counting needs, and all of them. @type {StoreName[]} */
const COUNTING = ["pairs", "data", "log", "meta"];
/** @type {StoreName[]} */
export const ALL = [...COUNTING, "photos"];

/** Why nothing can be written down where the pair was cleared away while its page was open. */
export const CLEARED = "the browser has cleared away what was kept here; load the page again to go on";

/** This device's name once it was read: it never changes. */
let device = "";

/**
 * @param {IDBTransaction} transaction
 * @param {number} before what the browser has
 */
function upgrade(transaction, before) {
  const { db } = transaction;
  if (before < 1) {
    db.createObjectStore("pairs", { keyPath: "link" });
    db.createObjectStore("data");
    db.createObjectStore("log", { keyPath: ["link", "id"] }).createIndex("unsent", ["link", "sent"]);
    db.createObjectStore("meta");
  }
  // Only notes have a text, and what has none is not in the index: a note is found without reading the counts.
  transaction.objectStore("log").createIndex("notes", ["link", "data.text"]);
  db.createObjectStore("photos");
}

/** @type {ReturnType<typeof database<StoreName>>} */
const kept = database("tapeline", 2, upgrade);

/**
 * Run `work` in one transaction; resolves with its answer once the transaction has completed.
 * @template T
 * @param {"readonly" | "readwrite"} mode
 * @param {(stores: Stores) => Promise<T>} work
 * @param {StoreName[]} [names] the stores that it needs
 * @param {IDBTransactionDurability} [durability] strict: nothing that it wrote can get lost any more
 * @returns {Promise<T>}
 */
export function transact(mode, work, names = COUNTING, durability) {
  return kept(mode, work, names, durability);
}

/**
 * A pair with the entries that the server has not got yet, or has set aside.
 * @param {string} link
 * @returns {Promise<Kept>}
 */
export function loadPair(link) {
  return transact("readonly", (stores) => keptOf(stores, link));
}

/** @param {Stores} stores @param {string} link @returns {Promise<Kept>} */
async function keptOf({ pairs, log }, link) {
  const unsent = log.index("unsent");
  // Asked all at once: each answer that is waited for delays the first round.
  const asked = [pairs.get(link), unsent.getAll([link, 0]), unsent.getAll([link, 2])];
  const [record, waiting, aside] = await Promise.all(asked.map(answerTo));
  return { record, unsent: waiting.sort(order), aside };
}

/**
 * The rounds of a pair, as the server last gave them.
 * @param {string} link
 * @returns {Promise<PairData | undefined>}
 */
export function loadData(link) {
  return transact("readonly", ({ data }) => answerTo(data.get(link)));
}

/**
 * Keep the pair's data from the server. Its places count only where the server knows more than this device.
 * @param {string} link
 * @param {PairData} rounds
 * @param {(kept: Kept, rounds: PairData) => void} [read] gets the same before it is written: what is new in it, the server has
 * @returns {Promise<Kept & {record: PairRecord}>} the pair as `loadPair` has it from now on
 */
export function savePairData(link, rounds, read) {
  return transact(
    "readwrite",
    async (stores) => {
      const { pairs, data } = stores;
      await mendClocks(stores, link);
      const { record = fresh(link), unsent, aside } = await keptOf(stores, link);
      // A change that was accepted here goes on until the server has heard of it.
      if (record.proposed) rounds = (await answerTo(data.get(link))) ?? rounds;
      const sameServer = !record.epoch || record.epoch === rounds.epoch; // else it may lack what is here
      if (sameServer && rounds.cursor > record.after && !unsent.length) {
        rounds.socks.forEach(({ sock, ends }) => settle(record, sock, ends));
      }
      record.title = rounds.title;
      record.opened = new Date().toISOString();
      record.totals = /** @type {[number, number]} */ (rounds.socks.map(({ script }) => rounds.scripts[script].total));
      record.clock = laterClock(record.clock, rounds.clock);
      pairs.put(record);
      data.put(rounds, link);
      read?.({ record, unsent, aside }, rounds);
      return { record, unsent, aside };
    },
    COUNTING,
    "relaxed",
  ); // what the server has can be had again, so the first round need not wait for the disk
}

/**
 * Repair a pair whose clocks have passed the highest number that is allowed: go on from the highest within it.
 * @param {Stores} stores
 * @param {string} link
 */
async function mendClocks({ pairs, log, meta }, link) {
  /** @type {PairRecord | undefined} */
  const record = await answerTo(pairs.get(link));
  if (!record || record.clock <= HIGHEST_CLOCK) return;
  /** @type {KeptEntry[]} */
  const entries = await answerTo(log.getAll(entriesOf(link)));
  const { clock, far } = withSoundClocks(entries, await deviceName(meta));
  far.forEach((entry) => log.put(entry));
  SOCKS.forEach((sock) => settle(record, sock, endsOf(entries, sock)));
  pairs.put({ ...record, clock });
}

/**
 * Which sock is on the needles.
 * @param {string} link
 * @param {Sock} sock
 */
export function takeUpSock(link, sock) {
  return transact("readwrite", async ({ pairs }) => {
    const record = await answerTo(pairs.get(link));
    if (record) pairs.put({ ...record, sock });
  });
}

/** The pair after a tap, and whether it was written down. @typedef {{record: PairRecord, written: boolean}} Counted */

/**
 * Write down one count, one step back or one jump, and move the place with it. Where there is nothing to
 * count or to undo, nothing is written.
 * @param {string} link
 * @param {Sock} sock
 * @param {Kind} kind
 * @param {number} [target] for a jump: the rounds done after it
 * @returns {Promise<Counted>}
 */
export function countTap(link, sock, kind, target = 0) {
  return transact("readwrite", async ({ pairs, log, meta }) => {
    const [record, name] = await writerOf(pairs, meta, link);
    const before = record.round[sock];
    let round = kind === "count" ? before + 1 : target;
    if (kind === "undo") round = stepBack(await answerTo(log.getAll(entriesOf(link))), sock, before);
    const ends = record.ends?.[sock] ?? [];
    const from = goneOnFrom(ends, kind, before);
    const settles = kind === "go" && ends.length > 1;
    if ((round === before && !settles) || round < 0 || round > record.totals[sock - 1]) {
      return { record, written: false };
    }
    const entry = makeEntry(name, record.clock, sock, kind, round);
    if (record.ends) {
      entry.after = from.map(({ id }) => id);
      record.ends[sock] = [...ends.filter((end) => !from.includes(end)), entry];
    }
    log.add({ ...entry, link, sent: 0 });
    record.clock = entry.clock;
    record.round[sock] = round;
    pairs.put(record);
    return { record, written: true };
  });
}

/**
 * Take in what the server answered: which entries it has, which it set aside, and what others wrote.
 * @param {string} link
 * @param {Answer} answer
 */
export function mergeAnswer(link, answer) {
  return transact(
    "readwrite",
    async ({ pairs, log, photos }) => {
      /** @type {PairRecord | undefined} */
      const record = await answerTo(pairs.get(link));
      if (!record) return;
      if (answer.anew) await unsend(log, link);
      /** @type {Map<string, Partial<KeptEntry>>} */
      const fates = new Map(answer.kept.map((id) => [id, { sent: 1 }]));
      answer.set_aside.forEach(({ id, why }) => fates.set(id, { sent: 2, why }));
      for (const [id, fate] of fates) {
        const entry = await answerTo(log.get([link, id]));
        if (entry) log.put({ ...entry, ...fate });
      }
      if (answer.entries.length || answer.anew) {
        answer.entries.forEach((entry) => log.put({ ...entry, link, sent: 1 }));
        const entries = await answerTo(log.getAll(entriesOf(link)));
        await empty(log, photos, link, answer.anew ? entries : answer.entries);
        SOCKS.forEach((sock) => settle(record, sock, endsOf(entries, sock)));
      }
      record.clock = answer.entries.reduce((highest, { clock }) => laterClock(highest, clock), record.clock);
      if (answer.anew || answer.cursor > record.after) {
        record.after = answer.cursor;
        record.last = answer.last ?? undefined;
      }
      record.epoch = answer.epoch;
      pairs.put(record);
    },
    ALL,
  );
}

/**
 * Of a remark that one of the entries takes back only its name and place remain, as on the server.
 * @param {IDBObjectStore} log
 * @param {IDBObjectStore} photos
 * @param {string} link
 * @param {Entry[]} entries
 */
async function empty(log, photos, link, entries) {
  for (const { kind, data } of entries) {
    if (kind !== "withdrawal") continue;
    const id = /** @type {{entry: string}} */ (data).entry;
    const { data: gone, ...left } = (await answerTo(log.get([link, id]))) ?? {};
    if (!gone || left.kind === kind) continue;
    log.put(left);
    photos.delete([link, id]);
  }
}

/**
 * Whatever was sent or set aside is to be sent again.
 * @param {IDBObjectStore} log
 * @param {string} link
 */
export async function unsend(log, link) {
  /** @type {KeptEntry[]} */
  const entries = await answerTo(log.getAll(entriesOf(link)));
  for (const { why, ...entry } of entries) log.put({ ...entry, sent: 0 });
}

/**
 * Where the sock is: where it was here while that is one of the ends, else at the last of them. Counts of another
 * device move it only if made in the knowledge of those here; otherwise the knitter is asked.
 * @param {PairRecord} record
 * @param {Sock} sock
 * @param {Entry[]} ends
 */
export function settle(record, sock, ends) {
  record.ends = { 1: [], 2: [], ...record.ends, [sock]: ends };
  if (!ends.some(({ round }) => round === record.round[sock])) record.round[sock] = ends.at(-1)?.round ?? 0;
}

/**
 * A pair of which nothing is known yet.
 * @param {string} link
 * @returns {PairRecord}
 */
export function fresh(link) {
  const round = { 1: 0, 2: 0 };
  return { link, title: "", opened: "", round, ends: { 1: [], 2: [] }, totals: [0, 0], sock: 1, after: 0, clock: 0 };
}

/**
 * A pair that something is to be written down for, and the name of this device.
 * @param {IDBObjectStore} pairs
 * @param {IDBObjectStore} meta
 * @param {string} link
 * @returns {Promise<[PairRecord, string]>}
 */
export async function writerOf(pairs, meta, link) {
  // Asked at once, and no more than is needed: each answer that is waited for delays a tap.
  const [record, name] = await Promise.all([answerTo(pairs.get(link)), deviceName(meta)]);
  if (!record) throw new Error(CLEARED);
  return [record, name];
}

/** Every entry of a pair: an array sorts after every string. @param {string} link */
export function entriesOf(link) {
  return IDBKeyRange.bound([link], [link, []]);
}

/**
 * @param {IDBObjectStore} meta
 * @returns {Promise<string>}
 */
export async function deviceName(meta) {
  device ||= await answerTo(meta.get("device"));
  if (device) return device;
  const name = uuid();
  meta.put(name, "device");
  return name;
}
