/**
 * Changes of the plan that were accepted on this phone and that the server has not calculated again yet. The pair goes
 * on by them at once. They lie beside the plans, in the order in which they were accepted; the pair's record says
 * `proposed` while there are any.
 */

import { answerTo } from "../lib/idb.js";
import { goneOnFrom, makeEntry } from "./logbook.js";
import { transact, writerOf } from "./db.js";
import { KnownPairError, post } from "./sync.js";
import { planKeys } from "./whole-pair.js";

/** @typedef {import("./db.js").PairRecord} PairRecord */
/** @typedef {import("./instructions.js").PairData} PairData */
/** @typedef {import("./logbook.js").Sock} Sock */
/** @typedef {import("./whole-pair.js").PairFile} PairFile */

/** What companion/on_phone/answer.py makes of a way that is accepted. `place`: the rounds of the sock by it.
 * @typedef {{proposal: {choice: string, sock: Sock, basis: number, known: number, done: number, clock: number}, revision: {number: number, summary: string},
 *   place: number, data: PairData}} Acceptance */
/** The same of a change that is taken back after the server had it.
 * @typedef {{proposal: {back: number, sock: Sock}, place: number, data: PairData}} TakenBack */
/** `before`: the pair as the knit page had it; `revision`, unless it was taken back.
 * @typedef {{proposal: Acceptance["proposal"] | TakenBack["proposal"], revision?: Acceptance["revision"],
 *   before: PairData}} Proposed */

const COUNTED_ON = "It was counted on since this was calculated. Open it again from the knit page";

/** @param {string} link */
export function proposalsKey(link) {
  return ["proposals", link];
}

/** @param {IDBObjectStore} meta @param {string} link @returns {Promise<Proposed[]>} */
export async function proposalsIn(meta, link) {
  return (await answerTo(meta.get(proposalsKey(link)))) ?? [];
}

/** @param {string} link */
export function proposalsOf(link) {
  return transact("readonly", ({ meta }) => proposalsIn(meta, link), ["meta"]);
}

/**
 * The plans of a pair with those that were accepted here.
 * @param {PairFile} plans
 * @param {Proposed[]} proposals
 * @returns {PairFile}
 */
export function withProposals(plans, proposals) {
  const revisions = [...plans.revisions];
  for (const { proposal, revision } of proposals) {
    const number = "back" in proposal ? proposal.back : revision?.number;
    const at = revisions.findIndex((one) => one.number === number);
    if (revision && at < 0) revisions.push(revision);
    else if (!revision && at >= 0) revisions[at] = { ...revisions[at], state: "withdrawn" };
  }
  return { ...plans, revisions };
}

/**
 * Go on by what was accepted or taken back here.
 * @param {string} link
 * @param {number} clock of the logbook that it was calculated from: a later count makes it too old
 * @param {Acceptance | TakenBack} made
 */
export function propose(link, clock, { proposal, place, data: rounds, ...made }) {
  return transact("readwrite", async ({ pairs, data, log, meta }) => {
    const [record, device] = await writerOf(pairs, meta, link);
    const { sock } = proposal;
    const tooFar = "done" in proposal && record.round[sock] > proposal.done;
    if (record.clock !== clock || tooFar) throw new Error(COUNTED_ON);
    const [proposals, before] = await Promise.all([proposalsIn(meta, link), answerTo(data.get(link))]);
    meta.put([...proposals, { ...made, proposal, before }], proposalsKey(link));
    data.put({ ...before, ...rounds }, link);
    record.proposed = "waits";
    record.totals = totalsOf(rounds);
    moveTo(log, record, device, sock, place);
    pairs.put(record);
  });
}

/**
 * Take the newest of them back, before the server has heard of it.
 * @param {string} link
 * @param {number} free rounds up to which nothing is ripped for it
 */
export function takeProposalBack(link, free) {
  return transact("readwrite", async ({ pairs, data, log, meta }) => {
    const [record, device] = await writerOf(pairs, meta, link);
    const proposals = await proposalsIn(meta, link);
    const last = proposals.pop();
    if (!last?.revision) return; // what the server had was taken back, and is no more here
    const { sock } = last.proposal;
    data.put(last.before, link);
    record.totals = totalsOf(last.before);
    moveTo(log, record, device, sock, Math.min(record.round[sock], free));
    leave(meta, record, proposals);
    pairs.put(record);
  });
}

/** Go on by the plan that the server has. @param {string} link @param {PairData} rounds what it gave for the knit page */
export function dropProposals(link, rounds) {
  return transact("readwrite", async ({ pairs, data, meta }) => {
    const [record] = await writerOf(pairs, meta, link);
    data.put(rounds, link);
    record.totals = totalsOf(rounds);
    leave(meta, record, []);
    meta.delete(planKeys(link)); // they are fetched anew
    pairs.put(record);
  });
}

/**
 * Send them, the oldest first; what the server does not make again waits for the knitter's word.
 * @param {string} link
 * @param {boolean} [anyway] she has given it for the first of them
 * @returns {Promise<number>} the newest revision of the server; 0 where one waits
 */
export async function sendProposals(link, anyway = false) {
  let newest = 0;
  for (let [first] = await proposalsOf(link); first; [first] = await proposalsOf(link)) {
    try {
      newest = (await post(`/pair/${link}/proposal`, { proposal: first.proposal, anyway })).revision;
    } catch (error) {
      if (!(error instanceof KnownPairError) || anyway) throw error;
      await ask(link);
      return 0;
    }
    await taken(link, first, newest);
    anyway = false;
  }
  return newest;
}

/** @param {string} link */
function ask(link) {
  return transact("readwrite", async ({ pairs }) => {
    const record = await answerTo(pairs.get(link));
    if (record?.proposed) pairs.put({ ...record, proposed: "asks" });
  });
}

/**
 * The server has it, as its revision `number`. What goes on from it names that.
 * @param {string} link
 * @param {Proposed} first
 * @param {number} number
 */
function taken(link, { proposal }, number) {
  return transact("readwrite", async ({ pairs, meta }) => {
    const record = await answerTo(pairs.get(link));
    const [first, ...others] = await proposalsIn(meta, link);
    if (!record || JSON.stringify(first?.proposal) !== JSON.stringify(proposal)) return; // taken back or sent elsewhere
    const shift = first.revision ? number - first.revision.number : 0;
    if (shift) {
      meta.delete(planKeys(link));
      others.forEach((other) => renumber(other, shift));
    } else await addToPlans(meta, link, first, number);
    leave(meta, record, others);
    pairs.put(record);
  });
}

/** What goes on from it has other numbers by now. @param {Proposed} proposed changed @param {number} shift */
function renumber({ proposal, revision }, shift) {
  if ("back" in proposal) proposal.back += shift;
  else Object.assign(proposal, { basis: proposal.basis + shift, known: proposal.known + shift });
  if (revision) revision.number += shift;
}

/**
 * @param {IDBObjectStore} meta
 * @param {string} link
 * @param {Proposed} proposed
 * @param {number} newest the server's revision by then
 */
async function addToPlans(meta, link, proposed, newest) {
  const [[key], [text]] = await Promise.all([
    answerTo(meta.getAllKeys(planKeys(link))),
    answerTo(meta.getAll(planKeys(link))),
  ]);
  if (!key) return;
  meta.delete(key);
  meta.put(JSON.stringify(withProposals(JSON.parse(text), [proposed])), [...key.slice(0, 3), newest]);
}

/** @param {IDBObjectStore} meta @param {PairRecord} record changed @param {Proposed[]} proposals */
function leave(meta, record, proposals) {
  if (proposals.length) {
    meta.put(proposals, proposalsKey(record.link));
    record.proposed = "waits";
  } else {
    meta.delete(proposalsKey(record.link));
    delete record.proposed;
  }
}

/** @param {PairData} rounds @returns {[number, number]} */
function totalsOf({ socks, scripts }) {
  return /** @type {[number, number]} */ (socks.map(({ script }) => scripts[script].total));
}

/**
 * The sock is ripped back to a place, or stays.
 * @param {IDBObjectStore} log
 * @param {PairRecord} record changed
 * @param {string} device
 * @param {Sock} sock
 * @param {number} place
 */
function moveTo(log, record, device, sock, place) {
  if (place === record.round[sock]) return;
  const entry = makeEntry(device, record.clock, sock, "go", place);
  const ends = record.ends?.[sock] ?? [];
  if (record.ends) {
    entry.after = goneOnFrom(ends, "go", record.round[sock]).map(({ id }) => id);
    record.ends[sock] = [entry];
  }
  log.add({ ...entry, link: record.link, sent: 0 });
  record.clock = entry.clock;
  record.round[sock] = place;
}
