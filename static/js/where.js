/** "Where was I?": after a pause, what was done last and when, what comes now, and what the needles look like. */

import { momentWords } from "./days.js";
import { showLength } from "./measure.js";
import { listOf, openPanel } from "./panel.js";
import { askPast } from "./past.js";
import { instructionAt, lengths, numbered, sectionAt } from "./script.js";
import { spoken } from "./words.js";

/** @typedef {import("./later.js").Page} Page */
/** @typedef {import("./script.js").Instruction} Instruction */

/** Milliseconds that a row, a meal or a call take; after a longer pause the knitter is told (ours). */
const PAUSE = 30 * 60_000;

const UNITS = /** @type {const} */ ([["week", 604_800_000], ["day", 86_400_000], ["hour", 3_600_000], ["minute", 60_000]]);

/** Tell it by itself if the pause was long. @param {Page} page */
export async function afterPause(page) {
  const last = await lastOf(page);
  if (last && page.place() && Date.now() - Date.parse(last.at) > PAUSE) showWhere(page, last.at);
}

/** Tell it because it was asked for. @param {Page} page */
export async function tellWhere(page) {
  showWhere(page, (await lastOf(page))?.at);
}

/** @param {Page} page */
async function lastOf(page) {
  try {
    return (await askPast(page)).last;
  } catch {
    return null; // the worker's file is out of reach: what lies on the needles is known without the logbook
  }
}

/**
 * @param {Page} page
 * @param {string} [at]
 */
function showWhere(page, at) {
  const [script, place] = [page.script(), page.place()];
  const unit = page.data().unit;
  const before = place ? instructionAt(script, place - 1) : null;
  const now = place < script.total ? instructionAt(script, place) : null;
  const long = lengths(script)[place];
  openPanel("Where was I?", "Go on", listOf([
    ["Last", place ? `${named(script, place - 1)}${at ? `, ${ago(at)}` : ""}: ${before ? spoken({ ...before, note: null }) : ""}` : null],
    ["Now", now ? `${named(script, place)}: ${spoken(now)}` : null],
    ["On the needles", before && onNeedles(before)],
    ["Needle by needle", place < script.total ? sectionAt(script, place).needles : null],
    ["The sock", long ? `measures about ${showLength(long, unit)} from its first edge` : null],
  ]));
}

/**
 * How to know the round again: its stitches, zone by zone, and what was done to them last.
 * @param {Instruction} instruction the last one that was knitted
 */
function onNeedles({ before, after, stitches }) {
  const zones = Object.entries(stitches ?? {}).filter(([, count]) => count);
  const apart = zones.length > 1 ? `: ${zones.map(([zone, count]) => `${zone} ${count}`).join(", ")}` : "";
  const changed = before && after !== before ? `; before the last one there were ${before}` : "";
  return `${after} stitches${apart}${changed}`;
}

/**
 * @param {import("./script.js").Script} script
 * @param {number} place
 */
function named(script, place) {
  return `${sectionAt(script, place).title}, ${numbered(script, place).toLowerCase().replace(/\((rs|ws)\)/, (side) => side.toUpperCase())}`;
}

/** "yesterday", "3 weeks ago", with the day and the time. @param {string} at */
function ago(at) {
  const then = new Date(at);
  const since = Date.now() - then.getTime();
  const [unit, long] = UNITS.find(([, length]) => since >= length) ?? UNITS[3];
  const words = new Intl.RelativeTimeFormat("en", { numeric: "auto" }).format(-Math.floor(since / long), unit);
  return `${words} (${momentWords(then)})`;
}
