/** What the knit page does not need for its first round; loaded when that is painted. */

import { stayAwake } from "./awake.js";
import { showChartRow } from "./chart-row.js";
import { tellHowFar } from "./far.js";
import { celebrate, celebrateNoMore } from "./finish.js";
import { keepGauge } from "./gauges.js";
import { showGrown } from "./grown.js";
import { restAfter } from "./hands.js";
import { showLeader } from "./leader.js";
import { showLegend } from "./legend.js";
import { listenToTape, lookedBack } from "./look.js";
import { listenToMedia } from "./media.js";
import { closePanel } from "./panel.js";
import { instructionAt, scriptOf, sectionAt } from "./script.js";
import { click, listenToSettings } from "./settings-form.js";
import { hideSteps, showStep } from "./steps.js";
import { fetchPair } from "./sync.js";
import { hushWord, listenToWords } from "./told.js";
import { countedOnce, keepOffering, listenToSecond } from "./twice.js";
import { byId } from "./view.js";
import { afterPause, tellWhere } from "./where.js";
import { warnOfYarn } from "./yarn-warning.js";

export { startCounting } from "./counting.js";

/**
 * The page as these parts see it. `tap` counts unless it comes too soon after another. `back` paints the knitter's own round again.
 * @typedef {{link: string, data: () => import("./script.js").PairData, sock: () => import("./logbook.js").Sock,
 *   rounds: () => Record<import("./logbook.js").Sock, number>,
 *   script: () => import("./script.js").Script, place: () => number, count: () => void,
 *   tap: (event: Event) => void, undo: () => void, back: () => void}} Page
 */

/** @type {import("./logbook.js").Sock[]} */
const SOCKS = [1, 2];
const STYLES = ["knit-later", "leader"];

/** The pair as the server has it, where the page was not made from it. @type {import("./script.js").PairData | null} */
let fresh = null;

/** @param {Page} page */
export function begin(page) {
  STYLES.forEach(addStyle);
  listenToTape(page);
  listenToSettings(/** @type {HTMLFormElement} */ (byId("settings")));
  listenToSecond(page.count);
  listenToWords(() => page.script().meanings ?? {});
  byId("where").addEventListener("click", () => {
    /** @type {HTMLDetailsElement} */ (byId("menu")).open = false;
    tellWhere(page);
  });
  byId("far").addEventListener("click", () => tellHowFar(page));
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && afterPause(page));
  afterPause(page);
  if (!byId("pair")) learnAnew(page);
  listenToMedia(() => page.tap(new Event("media")), page.undo);
  stayAwake();
}

/**
 * A page that was kept here has the pair as it was at an earlier opening; what was learned since is asked for.
 * @param {Page} page
 */
async function learnAnew(page) {
  fresh = await fetchPair(page.link).catch(() => null);
  if (fresh) tellLearned(page);
}

/** @param {string} name */
function addStyle(name) {
  const style = document.createElement("link");
  style.rel = "stylesheet";
  style.href = new URL(`../css/${name}.css`, import.meta.url).href;
  document.head.append(style);
}

/** The knitter's round has been painted. @param {Page} page */
export function painted(page) {
  lookedBack(page);
  hushWord();
  const [script, place] = [page.script(), page.place()];
  showLeader(page.data(), place < script.total ? sectionAt(script, place).key : "", page.sock(), place, page.link);
  tellLearned(page);
  showChartRow(script, place);
  showGrown(script, place);
  showLegend(script);
  const finished = SOCKS.filter((sock) => page.rounds()[sock] >= scriptOf(page.data(), sock).total);
  if (place === script.total) celebrate(page, finished.length === 2 ? finished : [page.sock()]);
  else celebrateNoMore();
  const parts = place < script.total ? instructionAt(script, place).parts : null;
  if (parts?.length) showStep(page.link, page.sock(), place, parts);
  else hideSteps();
  keepOffering(page.place());
}

/** What checks and weighings have taught. @param {Page} page */
function tellLearned(page) {
  const { learned, yarn_warnings = [] } = fresh ?? page.data();
  keepGauge(page.link, learned);
  warnOfYarn(page.link, yarn_warnings, page.script(), page.place());
}

/** A round has been counted and painted. */
export function counted() {
  closePanel();
  restAfter(Date.now());
  click();
}

/** A tap came too soon after another one to be a round. @param {Page} page */
export function doubled(page) {
  countedOnce(page.place());
}
