/** Notes and try-ons in the logbook of this browser, and the photos of notes, which never leave it. */

import { element } from "../lib/dom.js";
import { answerTo } from "../lib/idb.js";
import { ALL, entriesOf, transact, writerOf } from "./db.js";
import { makeEntry, order } from "./logbook.js";
import { proposalsIn } from "./proposals.js";

/** @typedef {import("./logbook.js").Entry} Entry */
/** @typedef {import("./logbook.js").Remark} Remark */
/** @typedef {Entry & {data: {text: string}}} Note */

/** Longest side of a kept photo in px: enough to see stitches, and a few hundred kilobytes. */
const LONGEST = 1600;
const QUALITY = 0.82;

const RESTS =
  "a change that was accepted without network rests on it. Take that change back first, or wait for a network";

/**
 * Write a remark down for the round that is on the needles.
 * @param {string} link
 * @param {Remark} kind
 * @param {object} data
 * @param {Blob | null} [photo]
 * @returns {Promise<Entry>}
 */
export function keepRemark(link, kind, data, photo) {
  const work = async (/** @type {import("./db.js").Stores} */ { pairs, log, meta, photos }) => {
    const [record, device] = await writerOf(pairs, meta, link);
    const { sock, round, clock } = record;
    const entry = { ...makeEntry(device, clock, sock, kind, round[sock]), data };
    log.add({ ...entry, link, sent: 0 });
    if (photo) photos.put(photo, [link, entry.id]);
    pairs.put({ ...record, clock: entry.clock });
    return entry;
  };
  return transact("readwrite", work, ALL);
}

/**
 * Take a remark back: what it said is gone here at once, and everywhere once the logbook was exchanged.
 * @param {string} link
 * @param {string} id
 * @throws {Error} where the server could not make a change again that was accepted here and rests on it
 */
export function withdrawRemark(link, id) {
  const work = async (/** @type {import("./db.js").Stores} */ { pairs, log, meta, photos }) => {
    const [record, device] = await writerOf(pairs, meta, link);
    const { sock, round, clock } = record;
    const entry = { ...makeEntry(device, clock, sock, "withdrawal", round[sock]), data: { entry: id } };
    const { data: gone, ...left } = await answerTo(log.get([link, id]));
    const changes = left.kind === "note" || !record.proposed ? [] : await proposalsIn(meta, link);
    if (changes.some(({ proposal }) => "clock" in proposal && proposal.clock >= left.clock)) throw new Error(RESTS);
    log.put(left);
    photos.delete([link, id]);
    log.add({ ...entry, link, sent: 0 });
    pairs.put({ ...record, clock: entry.clock });
  };
  return transact("readwrite", work, ALL);
}

/** The notes of the pair that is open. @type {Promise<Note[]> | null} */
let known = null;
/** Up to which of the server's entries they were read. */
let readFor = -1;

/** They are read again when they are asked for next: one was written or taken back. */
export function forgetNotes() {
  known = null;
}

/**
 * The notes of the pair that is open, read again when something new has come or the last reading failed.
 * @param {import("./db.js").PairRecord} record
 * @returns {Promise<Note[]>}
 */
export function knownNotes({ link, after }) {
  if (after !== readFor) known = null;
  readFor = after;
  known ??= notesOf(link);
  known.catch(forgetNotes);
  return known;
}

/**
 * The notes of a pair, in order.
 * @param {string} link
 * @returns {Promise<Note[]>}
 */
async function notesOf(link) {
  const notes = await transact("readonly", ({ log }) => answerTo(log.index("notes").getAll(entriesOf(link))));
  return notes.sort(order);
}

/**
 * The photo of a note, where it was taken on this device.
 * @param {string} link
 * @param {string} id
 * @returns {Promise<Blob | undefined>}
 */
export function photoOf(link, id) {
  return transact("readonly", ({ photos }) => answerTo(photos.get([link, id])), ["photos"]);
}

/**
 * The photos of a pair that were taken on this device, by the ids of their notes.
 * @param {string} link
 * @returns {Promise<Map<string, Blob>>}
 */
export function photosOf(link) {
  return transact(
    "readonly",
    async ({ photos }) => {
      const [keys, found] = await Promise.all([
        answerTo(photos.getAllKeys(entriesOf(link))),
        answerTo(photos.getAll(entriesOf(link))),
      ]);
      return new Map(
        keys.map((/** @type {[string, string]} */ [, id], /** @type {number} */ number) => [id, found[number]]),
      );
    },
    ["photos"],
  );
}

/**
 * A picture made small enough to keep, as JPEG and the right way up, without what the camera wrote into it.
 * @param {Blob} picture
 * @returns {Promise<Blob>}
 */
export async function shrunk(picture) {
  const bitmap = await createImageBitmap(picture, { imageOrientation: "from-image" }).catch(() => {
    throw new Error("the photo cannot be read");
  });
  const scale = Math.min(1, LONGEST / Math.max(bitmap.width, bitmap.height));
  const canvas = element("canvas");
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  canvas.getContext("2d")?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  return new Promise((resolve, reject) => {
    canvas.toBlob(
      (blob) => (blob ? resolve(blob) : reject(new Error("the photo has no room here"))),
      "image/jpeg",
      QUALITY,
    );
  });
}
