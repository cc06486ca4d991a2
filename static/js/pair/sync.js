/**
 * Sending what was counted here and taking in what others counted. One exchange at a time; a failed one is
 * tried again later and later. Whether there is a network is found out by trying.
 */

import { loadPair, mergeAnswer } from "./db.js";

/** @typedef {import("./db.js").Answer} Answer */
/** @typedef {import("./db.js").KeptEntry} KeptEntry */
/** @typedef {import("./instructions.js").PairData} PairData */

/** Entries in one message, the most the server takes, and letters in it: a message full of long notes is too large. */
const BATCH = 500;
const MOST_LETTERS = 60_000;
/** Milliseconds until a failed exchange is tried again by itself: doubled each time up to the longest. */
const FIRST_WAIT = 2_000;
const LONGEST_WAIT = 60_000;
/** Milliseconds after which a silent server counts as none. */
const PATIENCE = 20_000;

/** The server answered, but not with what was asked for. The message is for the knitter. */
export class RefusedError extends Error {}

/** It takes no more of this pair: sending the same again without being asked is of no use. */
export class FullError extends RefusedError {}

/** It answered that it has no such pair. */
export class UnknownPairError extends RefusedError {}

/** It answered that it has this pair already. */
export class KnownPairError extends RefusedError {}

let token = document.querySelector("meta[name=csrf-token]")?.getAttribute("content") ?? "";

/**
 * Send what waits here of one pair, as much as goes in one message, and take the answer in. The document hears of it
 * as `sent`.
 * @param {string} link
 * @param {(answer: Answer) => Promise<void>} [takenIn] after the answer is kept here
 * @returns {Promise<boolean>} whether more is waiting that this server takes
 */
export async function exchange(link, takenIn = async () => {}) {
  const { record, unsent } = await loadPair(link);
  if (!record) return false;
  if (record.made) await (await import("../phone/made-here.js")).sendMade(link);
  const entries = batch(unsent.map(bare));
  const { after, last, epoch } = record;
  const answer = await post(`/pair/${link}/log`, { after, last, epoch, entries });
  await mergeAnswer(link, answer);
  if (record.proposed === "waits" && !answer.anew && entries.length === unsent.length) {
    const { sendProposals } = await import("./proposals.js");
    answer.revision = (await sendProposals(link)) || answer.revision;
  }
  await takenIn(answer);
  document.dispatchEvent(new Event("sent"));
  return answer.anew || (unsent.length > entries.length && answer.kept.length + answer.set_aside.length > 0);
}

/**
 * Start sending for one pair.
 * @param {string} link
 * @param {(answer: Answer) => Promise<void>} takenIn after an answer is kept here
 * @param {(error: unknown) => void} failed
 * @returns {() => Promise<void>} send now; call it after each count
 */
export function startSending(link, takenIn, failed) {
  let running = false;
  let again = false;
  let wait = FIRST_WAIT;
  let timer = 0;

  async function send() {
    again = true;
    if (running) return;
    running = true;
    clearTimeout(timer);
    try {
      while (again) {
        again = false;
        again = (await exchange(link, takenIn)) || again;
      }
      wait = FIRST_WAIT;
    } catch (error) {
      failed(error);
      // Asked for while this attempt went on, perhaps because the network came back: at once.
      if (!(error instanceof FullError)) timer = again ? setTimeout(send) : setTimeout(tryAgain, wait);
    } finally {
      running = false;
    }
  }

  // Only waiting makes the next wait longer: a knitter who goes on counting without network is not put off by it.
  function tryAgain() {
    wait = Math.min(wait * 2, LONGEST_WAIT);
    send();
  }

  addEventListener("online", send);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") send();
  });
  return send;
}

/**
 * What is said of the counts.
 * @param {number} unsent how many the server has not got
 * @param {boolean} unknown whether it has no such pair
 */
export function whereKept(unsent, unknown) {
  if (unknown) return "Kept on this device.";
  return unsent ? `Kept on this device, ${unsent} not yet sent.` : "Kept and sent.";
}

/**
 * The pair as the server has it now.
 * @param {string} link
 * @returns {Promise<PairData>}
 */
export async function fetchPair(link) {
  const signal = AbortSignal.timeout(PATIENCE);
  return answerOf(await fetch(`/pair/${link}/pair.json`, { cache: "no-cache", signal }));
}

/**
 * @param {string} url
 * @param {object} body
 * @param {number} [patience]
 * @returns {Promise<any>}
 */
export async function post(url, body, patience = PATIENCE) {
  const response = await attempt(url, body, patience);
  if (response.status !== 400 || (await response.clone().json()).error !== "csrf") return answerOf(response);
  token = (await answerOf(await fetch("/csrf", { cache: "no-store" }))).token;
  return answerOf(await attempt(url, body, patience));
}

/**
 * @param {string} url
 * @param {object} body
 * @param {number} patience
 */
function attempt(url, body, patience) {
  return fetch(url, {
    method: "POST",
    headers: { "Content-Type": "application/json", "X-CSRFToken": token },
    body: JSON.stringify(body),
    signal: AbortSignal.timeout(patience),
  });
}

/**
 * @param {Response} response
 * @returns {Promise<any>}
 */
async function answerOf(response) {
  if (response.ok) return response.json();
  const { error, message } = await response.json().catch(() => ({}));
  if (error === "not-found") throw new UnknownPairError("The server does not know this pair any more.");
  if (error === "too-large") throw new FullError(message);
  if (error === "conflict") throw new KnownPairError(message);
  throw new RefusedError(message ?? "The server cannot take it just now.");
}

/**
 * As many from the front as go in one message; at least one.
 * @param {object[]} entries
 */
function batch(entries) {
  let letters = 0;
  const fits = entries.slice(0, BATCH).findIndex((entry) => (letters += JSON.stringify(entry).length) > MOST_LETTERS);
  return entries.slice(0, fits < 0 ? BATCH : Math.max(1, fits));
}

/**
 * An entry as it travels, without what only concerns this device.
 * @param {KeptEntry} entry
 */
export function bare({ link, sent, why, ...entry }) {
  return entry;
}
