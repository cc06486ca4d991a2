/** "Where was I?": after a pause, what was done last and when, what comes now, and what the needles look like. */

import { byId } from "../../lib/dom.js";
import { momentWords } from "../../lib/days.js";
import { showLength } from "../../lib/measure.js";
import { listOf, openPanel } from "../panel.js";
import { askKnittingSoFar } from "../../pair/knitting-so-far.js";
import { instructionAt, lengths, sectionAt, sectionRound } from "../../pair/instructions.js";
import { tell } from "../view.js";
import { spoken } from "../round-words.js";

/** @typedef {import("../deferred.js").Page} Page */
/** @typedef {import("../../pair/instructions.js").Instruction} Instruction */

/** Milliseconds that a row, a meal or a call take; after a longer pause the knitter is reminded (ours). */
const PAUSE = 30 * 60_000;

const UNITS = /** @type {const} */ ([
  ["week", 604_800_000],
  ["day", 86_400_000],
  ["hour", 3_600_000],
  ["minute", 60_000],
]);

/** Show it unasked after a long pause. @param {Page} page */
export async function afterPause(page) {
  const last = await lastOf(page);
  if (last && page.roundsDone() && Date.now() - Date.parse(last.at) > PAUSE) showWhere(page, last.at, false);
}

/** Show it on request. @param {Page} page */
export async function tellWhere(page) {
  showWhere(page, (await lastOf(page))?.at, true);
}

/** @param {Page} page */
async function lastOf(page) {
  try {
    return (await askKnittingSoFar(page)).last;
  } catch {
    return null; // the worker's file is out of reach: what lies on the needles is known without the logbook
  }
}

/**
 * @param {Page} page
 * @param {string | undefined} at when the last round was counted
 * @param {boolean} asked whether the knitter has asked for it; else it is said that it is there
 */
function showWhere(page, at, asked) {
  const [script, roundsDone] = [page.script(), page.roundsDone()];
  const unit = page.data().unit;
  const before = roundsDone ? instructionAt(script, roundsDone - 1) : null;
  const last =
    before &&
    `${sectionRound(script, roundsDone - 1)}${at ? `, ${ago(at)}` : ""}: ${spoken({ ...before, note: null })}`;
  const now = roundsDone < script.total ? instructionAt(script, roundsDone) : null;
  const long = lengths(script)[roundsDone];
  if (!asked && last) tell(`Where was I? Last: ${last}`);
  openPanel(
    "Where was I?",
    asked ? byId("where") : null,
    listOf([
      ["Last", last],
      ["Now", now ? `${sectionRound(script, roundsDone)}: ${spoken(now)}` : null],
      ["On the needles", before && onNeedles(before)],
      ["Needle by needle", roundsDone < script.total ? sectionAt(script, roundsDone).needles : null],
      ["The sock", long ? `measures about ${showLength(long, unit)} from its first edge` : null],
    ]),
  );
}

/**
 * How to know the round again: its stitches, zone by zone, and what was done to them last.
 * @param {Instruction} instruction the last one that was knitted
 */
function onNeedles({ before, after, stitches }) {
  const zones = Object.entries(stitches ?? {}).filter(([, count]) => count);
  const byZone = zones.length > 1 ? `: ${zones.map(([zone, count]) => `${zone} ${count}`).join(", ")}` : "";
  const changed = before && after !== before ? `; before the last one there were ${before}` : "";
  return `${after} stitches${byZone}${changed}`;
}

/** "yesterday", "3 weeks ago", with the day and the time. @param {string} at */
function ago(at) {
  const then = new Date(at);
  const since = Date.now() - then.getTime();
  const [unit, long] = UNITS.find(([, length]) => since >= length) ?? UNITS[3];
  const words = new Intl.RelativeTimeFormat("en", { numeric: "auto" }).format(-Math.floor(since / long), unit);
  return `${words} (${momentWords(then)})`;
}
