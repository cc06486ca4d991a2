/** What the knit page does without for its first round; loaded when that is painted. */

import { byId } from "../lib/dom.js";
import "../pages/register-worker.js";
import { showAnnouncement } from "./deferred/announcements.js";
import { addStyles } from "./deferred-styles.js";
import { stayAwake } from "./deferred/awake.js";
import { showChartRow } from "./deferred/chart/chart-row.js";
import { showProgressPanel } from "./deferred/progress-panel.js";
import { showFinish, hideFinish } from "./deferred/finish.js";
import { keepGauge } from "../pair/gauges.js";
import { showProgressDrawing } from "./deferred/progress-drawing.js";
import { restAfter } from "./deferred/rest.js";
import { showLeader } from "./deferred/leader-notes.js";
import { showLegend } from "./deferred/legend.js";
import { listenToTape, lookedBack } from "./deferred/tape-drag.js";
import { listenToMedia } from "./deferred/media.js";
import { beginMenu, fillMenu } from "./deferred/menu.js";
import { markMoreBelow } from "./deferred/more-below.js";
import { closePanel } from "./panel.js";
import { scriptOf, sectionAt } from "../pair/instructions.js";
import { StorageError } from "../lib/idb.js";
import { click } from "./deferred/settings-form.js";
import { hideSteps, showStep } from "./deferred/steps.js";
import { fetchPair } from "../pair/sync.js";
import { hideMeaning, listenToWords } from "./deferred/abbreviation-popup.js";
import { offerSecondTap, keepOfferingSecondTap, listenToSecondTap } from "./deferred/double-tap.js";
import { showCheck } from "./sheets/check-notice.js";
import { showPlaceConflict } from "./sheets/place-conflict.js";
import { showPlanConflict } from "./sheets/plan-conflict.js";
import { showPlanChanged } from "./sheets/plan-changed.js";
import { showPlannedOtherwise } from "./sheets/planned-otherwise.js";
import { keptWords } from "./sheets/kept-sheet.js";
import { sayWhatHttpLacks } from "./sheets/plain-http.js";
import { offerPutBack } from "./sheets/put-back.js";
import { offerRemarks, showNote } from "./sheets/remark-sheet.js";
import { reminderSheet, showReminders } from "./sheets/reminder-sheet.js";
import { hideWhatWasDone, sayWhatWasDone } from "./sheets/what-was-done.js";
import { showSecondSock } from "./sheets/second-sock.js";
import { weighingSheet } from "./sheets/weighing-sheet.js";
import { partsAt, tell } from "./view.js";
import { afterPause, tellWhere } from "./deferred/where-was-i.js";
import { keepBack } from "../pair/pairs-here.js";
import { keepPlans } from "../pair/whole-pair.js";
import { takeBackHere } from "../phone/take-back.js";
import { warnOfYarn } from "./deferred/yarn-warning.js";

/**
 * The page as these parts see it. `tap` counts unless it comes too soon after another. `write` counts a round, or moves
 * to another. `back` paints the knitter's own round again. `remarked`: something else was written into the logbook.
 * `unknown`: whether the server has no such pair.
 * @typedef {{link: string, data: () => import("../pair/instructions.js").PairData, record: () => import("../pair/db.js").PairRecord, sock: () => import("../pair/logbook.js").Sock,
 *   rounds: () => Record<import("../pair/logbook.js").Sock, number>,
 *   script: () => import("../pair/instructions.js").Script, roundsDone: () => number, count: () => void,
 *   tap: (event: Event) => void, undo: () => void,
 *   write: (kind: import("../pair/logbook.js").Kind, target?: number) => void, back: () => void, remarked: () => void,
 *   unknown: () => boolean}} Page
 */

/** @type {import("../pair/logbook.js").Sock[]} */
const SOCKS = [1, 2];

/** The pair as the server has it, where the page was not made from it. @type {import("../pair/instructions.js").PairData | null} */
let fresh = null;

/**
 * @param {Page} page
 * @returns {Promise<unknown>} resolves once what is added to the page looks as it will
 */
export function begin(page) {
  const styled = addStyles();
  addEventListener("unhandledrejection", leaveToTheCount);
  keepBack(true);
  listenToTape(page);
  listenToSecondTap(page.count);
  listenToWords(() => page.script().meanings ?? {});
  beginMenu(page, {
    where: ["Where was I?", () => tellWhere(page)],
    remind: ["Reminders", () => reminderSheet(page)],
    weigh: ["Weigh the yarn", () => weighingSheet(page.link, () => sayKept(page, "Weighing kept."))],
  });
  takeBackHere(page);
  byId("where").setAttribute("aria-expanded", "false");
  byId("how-far").addEventListener("click", () => showProgressPanel(page));
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && afterPause(page));
  afterPause(page);
  if (!byId("pair")) learnAnew(page);
  listenToMedia(() => page.tap(new Event("media")), page.undo);
  offerRemarks(page.link, (words) => sayKept(page, words));
  sayWhatHttpLacks();
  sayWhatWasDone(page);
  stayAwake();
  markMoreBelow();
  document.querySelectorAll(".beside :disabled").forEach((button) => button.removeAttribute("disabled"));
  return styled;
}

/** What the browser does not give is not shown. That nothing is kept here any more, the next count says. @param {PromiseRejectionEvent} event */
function leaveToTheCount(event) {
  if (event.reason instanceof StorageError) event.preventDefault();
}

/** Something was written down beside the counts. @param {Page} page @param {string} words */
function sayKept(page, words) {
  tell(keptWords(words));
  page.remarked();
}

/**
 * A page that was kept here has the pair as it was at an earlier opening; what was learned since is asked for.
 * @param {Page} page
 */
async function learnAnew(page) {
  fresh = await fetchPair(page.link).catch(() => null);
  if (!fresh) return;
  tellLearned(page);
  showAnnouncement(fresh.told ?? [], page.link);
}

/** The knitter's round has been painted. @param {Page} page */
export function painted(page) {
  lookedBack(page);
  hideMeaning();
  const [script, roundsDone] = [page.script(), page.roundsDone()];
  const section = roundsDone < script.total ? sectionAt(script, roundsDone) : null;
  showLeader(page.data(), section?.key ?? "", page.sock(), page.rounds(), page.link, section?.first === roundsDone);
  showAnnouncement((fresh ?? page.data()).told ?? [], page.link);
  tellLearned(page);
  showChartRow(script, roundsDone);
  showProgressDrawing(script, roundsDone);
  fillMenu(page);
  showLegend(script);
  showPlanChanged(script, roundsDone);
  const finished = SOCKS.filter((sock) => page.rounds()[sock] >= scriptOf(page.data(), sock).total);
  if (roundsDone === script.total) showFinish(page, finished.length === 2 ? finished : [page.sock()]);
  else hideFinish();
  const parts = partsAt(script, roundsDone);
  if (parts.length) showStep(page.link, page.sock(), roundsDone, parts);
  else hideSteps();
  keepOfferingSecondTap(page.roundsDone());
}

/** How the counts are kept has been painted, with what belongs to the place that is on the page. @param {Page} page */
export function keptPainted(page) {
  const record = page.record();
  showPlaceConflict(record, page.script(), page.write);
  showPlanConflict(page);
  showNote(record);
  showPlannedOtherwise(page.link, record);
  showReminders(page);
  showCheck(record);
  showSecondSock(record, Boolean(page.data().asks_for_second_sock));
  offerPutBack(page.link, page.unknown(), page.remarked);
}

/** What checks and weighings have taught. @param {Page} page */
function tellLearned(page) {
  const { learned, yarn_warnings = [] } = fresh ?? page.data();
  keepGauge(page.link, learned);
  warnOfYarn(page.link, yarn_warnings, page.script(), page.roundsDone());
}

/** The plan has become another. @param {Page} page */
export function replanned(page) {
  // Without network there is another time.
  keepPlans(page.link, page.data()).catch(() => undefined);
}

/** A round has been counted and painted. */
export function counted() {
  closePanel();
  hideWhatWasDone();
  restAfter(Date.now());
  click();
}

/** A tap came too soon after another one to be a round. @param {Page} page */
export function doubleTapped(page) {
  offerSecondTap(page.roundsDone());
}
