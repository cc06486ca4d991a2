/**
 * Looking along the tape without counting: dragged, flung, tapped on, or with the arrow keys when it has the
 * focus. It stops where a round is.
 */

import { byId } from "../../lib/dom.js";
import { actionButton } from "../../lib/sheet.js";
import { showChartRow } from "./chart/chart-row.js";
import { instructionAt, sectionRound } from "../../pair/instructions.js";
import { hideSteps } from "./steps.js";
import { STEP, slideTape } from "../tape.js";
import { spoken } from "../round-words.js";
import { say, showWords, tape } from "../view.js";

/** @typedef {import("../deferred.js").Page} Page */

/** Px that a finger may wander while it taps. */
const WANDER = 6;
/** Milliseconds that the tape runs on at the speed it was let go with. */
const RUN = 180;
/** Milliseconds within which the finger's speed is taken. */
const RECENT = 80;

const KEYS = { ArrowLeft: -1, ArrowRight: 1, Home: -Infinity, End: Infinity };

const reading = byId("reading");
const main = byId("main");

/** The place looked at, null for the knitter's own. @type {number | null} */
let seen = null;

/** @param {Page} page */
export function listenToTape(page) {
  reading.tabIndex = 0;
  reading.setAttribute("role", "slider");
  tell(page, page.roundsDone()); // at once: a slider has a value (WAI-ARIA 1.2), and what paints it waits for styles
  reading.removeAttribute("aria-labelledby"); // it would go before the name of what can be moved
  reading.setAttribute("aria-label", "Tape: look ahead or back without counting");
  reading.addEventListener("pointerdown", (event) => event.isPrimary && event.button === 0 && hold(page, event));
  reading.addEventListener("keydown", (event) => {
    const far = KEYS[/** @type {keyof typeof KEYS} */ (event.key)];
    if (far === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    look(page, (seen ?? page.roundsDone()) + far);
    said(page);
  });
  document.addEventListener("keydown", ({ key }) => key === "Escape" && seen !== null && page.back());
}

/** The knitter's own round has been painted. @param {Page} page */
export function lookedBack(page) {
  seen = null;
  main.classList.remove("looking");
  tell(page, page.roundsDone());
}

/**
 * @param {Page} page
 * @param {PointerEvent} down
 */
function hold(page, down) {
  const start = seen ?? page.roundsDone();
  let moved = false;
  let at = start;
  let track = [down];
  const loose = new AbortController();
  const { signal } = loose;
  reading.setPointerCapture(down.pointerId);
  reading.addEventListener("pointermove", follow, { signal });
  reading.addEventListener("pointerup", letGo, { signal });
  reading.addEventListener("pointercancel", () => (release(), page.back()), { signal });

  /** @param {PointerEvent} event */
  function follow(event) {
    const far = event.clientX - down.clientX;
    moved ||= Math.abs(far) > WANDER;
    if (!moved) return;
    track = [...track.filter(({ timeStamp }) => event.timeStamp - timeStamp < RECENT), event];
    at = within(page, start - far / STEP);
    tape.classList.add("held");
    slideTape(tape, at);
    show(page, Math.round(at));
  }

  /** @param {PointerEvent} event */
  function letGo(event) {
    release();
    if (!moved) look(page, Math.floor(start + (event.clientX - middle()) / STEP));
    else look(page, Math.round(at - (speed(track) * RUN) / STEP));
    said(page);
  }

  function release() {
    loose.abort();
    tape.classList.remove("held");
  }
}

/** Where the reading line stands, in px. */
function middle() {
  const { left, width } = reading.getBoundingClientRect();
  return left + width / 2;
}

/** In px a millisecond. @param {PointerEvent[]} track */
function speed(track) {
  const [first, last] = [track[0], track[track.length - 1]];
  const long = last.timeStamp - first.timeStamp;
  return long ? (last.clientX - first.clientX) / long : 0;
}

/**
 * @param {Page} page
 * @param {number} roundsDone
 */
function within(page, roundsDone) {
  return Math.max(0, Math.min(page.script().total - 1, roundsDone));
}

/**
 * @param {Page} page
 * @param {number} roundsDone
 */
function look(page, roundsDone) {
  const there = within(page, roundsDone);
  if (there === page.roundsDone()) return page.back();
  slideTape(tape, there);
  show(page, there);
}

/**
 * @param {Page} page
 * @param {number} roundsDone
 */
function show(page, roundsDone) {
  if (roundsDone === (seen ?? page.roundsDone())) return;
  seen = roundsDone;
  const script = page.script();
  main.classList.add("looking");
  showWords(script, roundsDone);
  showChartRow(script, roundsDone);
  hideSteps();
  const way = roundsDone < page.roundsDone() ? "back" : "ahead";
  const back = actionButton("Back to my round", () => {
    page.back();
    byId("done").focus();
  });
  byId("ahead").replaceChildren(`Looking ${way} `, back);
  tell(page, roundsDone);
}

/** @param {Page} page @param {number} roundsDone */
function tell(page, roundsDone) {
  const script = page.script();
  const there = Math.min(roundsDone, script.total - 1);
  reading.setAttribute("aria-valuemin", "1");
  reading.setAttribute("aria-valuemax", String(script.total));
  reading.setAttribute("aria-valuenow", String(there + 1));
  reading.setAttribute("aria-valuetext", sectionRound(script, there));
}

/** @param {Page} page */
function said(page) {
  if (seen === null) return;
  const script = page.script();
  const way = seen < page.roundsDone() ? "back" : "ahead";
  say(`Looking ${way}. ${sectionRound(script, seen)}. ${spoken(instructionAt(script, seen))}`);
}
