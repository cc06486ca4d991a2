/** The knit page: one round at a time. A count is painted once it is on disk. */

import { byId } from "../lib/dom.js";
import { CLEARED, countTap, loadData, loadPair, savePairData, takeUpSock } from "../pair/db.js";
import { onKeys, onTap, swallowDoubleTaps } from "./taps.js";
import { laterClock } from "../pair/logbook.js";
import { scriptOf, unpacked } from "../pair/instructions.js";
import { RefusedError, UnknownPairError, fetchPair, startSending, whereKept } from "../pair/sync.js";
import { slideTape } from "./tape.js";
import { lastTurn, otherOf, turnAfter } from "../pair/turns.js";
import {
  draftPlace,
  partsAt,
  say,
  showCheckLink,
  showKept,
  showNothing,
  showPlace,
  showSock,
  tape,
  tell,
} from "./view.js";

/** @typedef {import("../pair/db.js").PairRecord} PairRecord */
/** @typedef {import("../pair/logbook.js").Kind} Kind */
/** @typedef {import("../pair/logbook.js").Sock} Sock */
/** @typedef {import("../pair/instructions.js").PairData} PairData */
/** @typedef {import("../pair/instructions.js").Script} Script */

const link = document.body.dataset.copy ?? location.pathname.match(/^\/pair\/([\w-]+)\/knit$/)?.[1] ?? "";
const otherTabs = new BroadcastChannel("tapeline");

/**
 * What the page shows. `unsent`: entries here that the server has not got; `aside`: why it would not take some.
 * @type {{record: PairRecord, data: PairData, unsent: number, aside: string[]}}
 */
let state;
/** @type {Script | null} */
let drawn = null;
/** The newest revision of the plan that the server named. */
let revision = 0;
/** Why the last exchange with the server failed, in a sentence; empty when it went well. */
let trouble = "";
/** Whether the server answered that it has no such pair. */
let unknown = false;
/** Whether it was said that entries wait here because of trouble. */
let waitingTold = false;
/** Why the last tap could not be written down; empty when it could. */
let loss = "";
/** What came from the server since the page was opened. */
let news = "";
/** Taps wait here for the disk, in order. */
let queue = Promise.resolve();
let send = async () => {};
/** Two at a time: the socks counted here, the last one last; null while nothing is known. @type {Sock[] | null} */
let turns = null;
/** The parts that are not needed for the first round, once they are here. @type {typeof import("./deferred.js") | null} */
let deferred = null;
/** The page as those parts see it. @type {import("./deferred.js").Page} */
const page = {
  link,
  data: () => state.data,
  record: () => state.record,
  sock: () => state.record.sock,
  rounds: () => state.record.round,
  script: () => scriptOf(state.data, state.record.sock),
  roundsDone,
  count,
  tap: swallowDoubleTaps(count, () => deferred?.doubleTapped(page)),
  undo: () => write("undo"),
  write,
  back: paint,
  remarked: () => reload(state.data).then(send),
  unknown: () => unknown,
};

start().catch(() => {
  const why = "This browser does not let the page store anything, so no count would last.";
  showNothing("Nothing can be kept here", `${why} If this is a private window, open the pair in an ordinary one.`);
});

async function start() {
  if (!link) return showNothing("No pair", "Open a pair from the list of your pairs.");
  const embedded = byId("pair")?.textContent;
  const here = embedded ? await keep(unpacked(JSON.parse(embedded))) : (await reload()) || (await fetchFirst());
  if (!here) return;
  const { data } = state;
  revision = Math.max(...data.scripts.map((script) => script.revision));
  send = startSending(link, takenIn, failed);
  send();
  afterPaint(getDeferred);
}

async function getDeferred() {
  const loaded = await import("./deferred.js").catch(() => null);
  if (!loaded) {
    // No network just now, and they are not kept here: counting goes on without them until there is one.
    addEventListener("online", getDeferred, { once: true });
    return;
  }
  deferred = loaded;
  await deferred.begin(page);
  deferred.painted(page);
  deferred.keptPainted(page);
}

/**
 * Read the place again from the disk, and the rounds with it unless they are at hand; then paint what changed.
 * @param {PairData} [known]
 * @returns {Promise<boolean>} whether the pair is here
 */
async function reload(known) {
  const data = known ?? (await loadData(link));
  return show(await loadPair(link), data, Boolean(known));
}

/**
 * Keep what came from the server, and paint it.
 * @param {PairData} data
 */
async function keep(data) {
  await savePairData(link, data, (kept, rounds) => show(kept, rounds, false));
  return true;
}

/**
 * @param {import("../pair/db.js").Kept} kept
 * @param {PairData | undefined} data
 * @param {boolean} known whether the page has these rounds already
 * @returns {boolean} whether the pair is here
 */
function show({ record, unsent, aside }, data, known) {
  const before = state?.record;
  if (!record || !data) {
    if (before) tellLoss(`Nothing can be counted here now: ${CLEARED}.`);
    return false;
  }
  // A count may have overtaken what was read before it was written.
  if (before && laterClock(record.clock, before.clock) > record.clock) record = before;
  const stays = known && before?.sock === record.sock && before.round[record.sock] === record.round[record.sock];
  state = { record, data, unsent: unsent.length, aside: aside.map(({ why }) => why ?? "") };
  if (stays) paintKept();
  else paint();
  if (!before) listen(); // from now on the button looks as if it counted
  return true;
}

/** A pair that was never opened here, from the shell alone. */
async function fetchFirst() {
  try {
    return await keep(await fetchPair(link));
  } catch (error) {
    const unopened = "It was not opened on this device before, and there is no network.";
    if (error instanceof UnknownPairError)
      showNothing("There is nothing here", "Check that the link is complete: one missing letter opens nothing.");
    else showNothing("This pair is not here yet", error instanceof RefusedError ? error.message : unopened);
    return false;
  }
}

function paint() {
  const { data } = state;
  const { sock } = state.record;
  const script = page.script();
  if (script !== drawn) showSock(data.title, script, data.unit);
  drawn = script;
  const words = showPlace(script, data.unit, sock, roundsDone(), finished(1) && finished(2));
  paintKept();
  afterPaint(paintRest);
  return words;
}

/** What may come a frame after the round: the number is never kept waiting. */
function paintRest() {
  slideTape(tape, roundsDone());
  showCheckLink(link, state.record.sock, roundsDone());
  deferred?.painted(page);
  draftPlace(page.script(), state.data.unit, roundsDone() + 1);
}

/** Rounds done of the sock on the needles; a place beyond the sock, as from a longer plan taken back, is its end. */
function roundsDone() {
  return Math.min(state.record.round[state.record.sock], page.script().total);
}

function paintKept() {
  const { unsent, aside } = state;
  const waiting = whereKept(unsent, unknown || Boolean(state.record.made));
  const stuck = Boolean(trouble && unsent && !unknown);
  const kept = stuck ? `${waiting} ${trouble}` : waiting;
  if (stuck !== waitingTold && (stuck || !unsent)) {
    waitingTold = stuck;
    tell(kept);
  }
  const lines = loss ? [loss] : [kept, news];
  byId("kept").classList.toggle("lost", Boolean(loss));
  if (aside.length) lines.push(`${aside.length} not taken by the server, kept here: ${aside[0]}.`);
  showKept(lines.filter(Boolean));
  afterPaint(() => deferred?.keptPainted(page));
}

/** @param {Sock} sock */
function finished(sock) {
  return state.record.round[sock] >= scriptOf(state.data, sock).total;
}

/**
 * Write it down, then show it. Taps faster than the disk wait their turn.
 * @param {Kind} kind
 * @param {number} [target]
 */
function write(kind, target) {
  enqueue(async () => {
    if (await stayed(kind, target)) return;
    const sock = kind === "undo" ? undone() : state.record.sock;
    const { record, written } = await countTap(link, sock, kind, target);
    const shown = state.record.sock;
    record.sock = nextSock(kind, sock, record);
    state = { ...state, record, unsent: state.unsent + Number(written) };
    loss = "";
    if (scrollY) scrollTo(0, 0); // asked for in vain, it would still delay the frame
    const words = paint();
    afterPaint(() => {
      navigator.vibrate?.(15);
      say(words);
      otherTabs.postMessage(link);
      send();
      if (kind === "count") deferred?.counted();
    });
    if (record.sock !== shown) await takeUpSock(link, record.sock);
  });
}

/**
 * Whether the tap was for a step inside a round. Few have them, so the steps come when one does.
 * @param {Kind} kind
 * @param {number} [target]
 */
async function stayed(kind, target = roundsDone()) {
  const script = page.script();
  const parts = partsAt(script, target);
  if (!parts.length) return false;
  const { forgetSteps, showStep, step } = await import("./deferred/steps.js");
  const { sock } = state.record;
  if (kind === "go") await forgetSteps(link, sock);
  if (kind === "go" || !(await step(link, sock, target, parts, kind === "count" ? 1 : -1))) return false;
  if (byId("main").classList.contains("looking")) paint();
  const words = await showStep(link, sock, target, parts);
  navigator.vibrate?.(15);
  say(words);
  deferred?.counted();
  return true;
}

/** The sock that undo takes back from: two at a time, the one counted last, which need not be the one shown. */
function undone() {
  const { sock, round } = state.record;
  if (!state.data.two_at_a_time) return sock;
  return turns ? (turns.pop() ?? sock) : lastTurn(sock, round);
}

/**
 * @param {Kind} kind
 * @param {Sock} sock the one written down for
 * @param {PairRecord} record
 */
function nextSock(kind, sock, { round, totals }) {
  if (kind !== "count" || !state.data.two_at_a_time) return sock;
  turns = [...(turns ?? []), sock];
  return turnAfter(sock, round, totals);
}

/** For what nobody waits for. @param {() => void} job */
function afterPaint(job) {
  requestAnimationFrame(() => setTimeout(job));
}

/** @param {() => Promise<void>} job */
function enqueue(job) {
  queue = queue.then(job).catch(({ message }) => tellLoss(`The tap was not kept, so the round stays: ${message}.`));
}

/** @param {string} why */
function tellLoss(why) {
  loss = why;
  say(loss);
  paintKept();
}

function count() {
  const { sock } = state.record;
  if (!finished(sock)) write("count");
  else if (!(finished(1) && finished(2))) changeSock(otherOf(sock));
}

/** @param {Sock} sock */
function changeSock(sock) {
  enqueue(async () => {
    await takeUpSock(link, sock);
    state.record.sock = sock;
    turns = [];
    say(`Sock ${sock}. ${paint()}`);
    byId("done").focus();
  });
}

function listen() {
  onTap(byId("done"), page.tap);
  // What had the focus before would take the keys of a pedal that is pressed next.
  byId("done").addEventListener("pointerup", () => byId("done").focus({ preventScroll: true }));
  // Ask the browser not to clear this away when space runs short; some ask the knitter, so only once she counts.
  byId("done").addEventListener("pointerup", () => navigator.storage?.persist?.(), { once: true });
  onKeys(page.tap, page.undo);
  byId("undo").addEventListener("click", ({ detail }) => {
    page.undo();
    // A finger leaves the button focused, and the pedal that is pressed next would undo once more.
    if (detail) byId("undo").blur();
  });
  for (const button of document.querySelectorAll("[data-sock]")) {
    button.addEventListener("click", () => changeSock(button.getAttribute("data-sock") === "1" ? 1 : 2));
  }
  otherTabs.onmessage = ({ data }) => data === link && reload(state.data);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && reload());
}

/** @param {import("../pair/db.js").Answer} answer */
async function takenIn(answer) {
  trouble = "";
  unknown = false;
  if (answer.kept.length) otherTabs.postMessage(link);
  await reload(state.data);
  if (state.record.proposed) return;
  if (answer.revision === revision && answer.epoch === state.data.epoch && !answer.anew) return;
  const data = await fetchPair(link);
  const older = answer.anew && answer.revision < revision;
  if (older) news = "The server has an earlier plan again. Look at it before you knit on.";
  else if (answer.revision !== revision) news = "The rest of the plan has changed.";
  if (news) tell(news);
  revision = answer.revision;
  await keep(data);
  deferred?.replanned(page);
}

/** @param {unknown} error */
function failed(error) {
  trouble = error instanceof RefusedError ? error.message : "No network now.";
  unknown = error instanceof UnknownPairError;
  paintKept();
}
