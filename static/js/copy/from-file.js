/** Stands in for pair/sync.js: the pair comes from the copy's own file, once, and nothing is sent. */

import { answerTo } from "../lib/idb.js";
import { entriesOf, loadPair, mergeAnswer, transact } from "../pair/db.js";
import { RefusedError } from "../pair/sync.js";

export { KnownPairError, RefusedError, UnknownPairError, bare } from "../pair/sync.js";

/** @typedef {import("../pair/db.js").Answer} Answer */
/** @typedef {import("../pair/instructions.js").PairData} PairData */
/** @typedef {import("../pair/whole-pair.js").PairFile} PairFile */

/** What the file holds under a name. @param {string} id @returns {any} */
function held(id) {
  return JSON.parse(document.getElementById(id)?.textContent ?? "null");
}

/** The whole pair as it was exported for the copy. @returns {PairFile} */
export function pairFile() {
  return held("file");
}

/** @returns {Promise<PairData>} */
export async function fetchPair() {
  return held("pair");
}

/**
 * @param {string} link
 * @param {(answer: Answer) => Promise<void>} takenIn after the logbook of the file is kept here
 */
export function startSending(link, takenIn) {
  let asked = false;
  return async () => {
    if (asked) return;
    asked = true;
    const answer = await newHere(link);
    if (!answer) return;
    await mergeAnswer(link, answer);
    await takenIn(answer);
  };
}

/**
 * What the logbook of the file has that is not here, in the form of the server's answer; null where all was taken in.
 * @param {string} link
 * @returns {Promise<Answer | null>}
 */
async function newHere(link) {
  const [{ record, unsent }, data] = [await loadPair(link), await fetchPair()];
  const { cursor = 0, epoch = "", scripts } = data;
  if (!record || (record.epoch === epoch && record.after >= cursor)) return null;
  const { log } = pairFile();
  const keys = await transact("readonly", (stores) => answerTo(stores.log.getAllKeys(entriesOf(link))));
  const here = new Set(keys.map((/** @type {string[]} */ [, id]) => id));
  const inFile = new Set(log.map(({ id }) => id));
  return {
    kept: unsent.map(({ id }) => id).filter((id) => inFile.has(id)),
    set_aside: [],
    entries: log.filter(({ id }) => !here.has(id)),
    anew: false,
    epoch,
    cursor,
    last: null,
    revision: Math.max(...scripts.map(({ revision }) => revision)),
  };
}

/** What is said of the counts. @param {number} unsent how many the pair has not got */
export function whereKept(unsent) {
  return unsent ? `Kept here; ${unsent} not in the pair yet.` : "Kept here.";
}

/** @returns {Promise<never>} */
export async function post() {
  throw new RefusedError("A copy has no server.");
}
