/** A pair as a card on the first page: its sock as far as it is knitted, where it is, and a menu of its own. */

import { dayWords, momentWords } from "../lib/days.js";
import { scriptOf, sectionRound } from "../pair/instructions.js";
import { conflictingEnds } from "../pair/logbook.js";
import { smallSock } from "../pair/small-sock.js";
import { exportHere } from "../pair/export-here.js";

/** @typedef {import("../pair/pairs-here.js").ListedPair} Pair */
/** @typedef {import("../pair/instructions.js").PairData} PairData */
/** @typedef {import("../pair/logbook.js").Sock} Sock */

/** @type {Sock[]} */
const SOCKS = [1, 2];

/** @param {Pair} pair */
export function nameOf({ title }) {
  return title || "Socks";
}

/** Whether both socks are finished. @param {Pair} pair */
export function isFinished({ round, totals }) {
  return SOCKS.every((sock) => totals[sock - 1] && round[sock] >= totals[sock - 1]);
}

/** When something was last counted, as ISO 8601; empty where nothing was. @param {Pair} pair */
export function lastKnitted({ ends }) {
  const times = SOCKS.flatMap((sock) => ends?.[sock] ?? []).map(({ at }) => at);
  return times.sort().at(-1) ?? "";
}

/**
 * @param {HTMLTemplateElement} pattern
 * @param {Pair} pair
 * @param {PairData | undefined} data its rounds, where they are here
 * @param {{namesake: boolean, forget: () => void}} more whether another pair here has the same name, as one that was
 *   imported may, and what to do when the pair is to be forgotten
 */
export function cardOf(pattern, pair, data, { namesake, forget }) {
  const card = /** @type {DocumentFragment} */ (pattern.content.cloneNode(true));
  const part = (/** @type {string} */ selector) => /** @type {HTMLElement} */ (card.querySelector(selector));
  const anchor = (/** @type {string} */ selector) => /** @type {HTMLAnchorElement} */ (card.querySelector(selector));
  const base = `/pair/${pair.link}`;
  const opened = namesake ? `opened ${momentWords(new Date(pair.opened))}` : "";
  const full = [nameOf(pair), opened].filter(Boolean).join(", ");
  anchor(".pair-link").href = `${base}/knit`;
  part(".pair-title").textContent = nameOf(pair);
  part(".pair-place").textContent = placeOf(pair, data);
  part(".pair-when").textContent = [whenOf(pair), opened].filter(Boolean).join("; ");
  part(".pair-waiting").textContent = waitingOf(pair);
  part(".pair-question").textContent = questionOf(pair);
  part(".knit-on").textContent = lastKnitted(pair) ? "Knit on" : "Begin";
  if (data) part(".sock").append(...drawingOf(pair, data));
  part("summary").setAttribute("aria-label", `More: ${full}`);
  for (const name of ["plan", "export", "delete"]) {
    anchor(`.${name}`).href = name === "plan" ? base : `${base}/${name}`;
    anchor(`.${name}`).setAttribute("aria-label", `${anchor(`.${name}`).textContent}: ${full}`);
  }
  exportHere(anchor(".export"), pair.link);
  part("button").setAttribute("aria-label", `Forget here: ${full}`);
  part("button").addEventListener("click", forget);
  return part("li");
}

/** The sock on the needles, coloured as far as it is knitted. @param {Pair} pair @param {PairData} data */
function drawingOf({ sock, round }, data) {
  const script = scriptOf(data, sock);
  const { parts, show } = smallSock(script);
  show(Math.min(round[sock], script.total));
  return parts;
}

/** Sock two is named once it is its turn. @param {Pair} pair @param {PairData} [data] */
function placeOf(pair, data) {
  const [one, two] = SOCKS.map((sock) => progressOf(pair, sock, data));
  if (!pair.round[1] && !pair.round[2]) return "Not begun";
  return pair.round[2] || one === "Sock 1 finished" ? `${one}; ${two[0].toLowerCase()}${two.slice(1)}` : one;
}

/** @param {Pair} pair @param {Sock} sock @param {PairData} [data] */
function progressOf({ round, totals }, sock, data) {
  const [roundsDone, total] = [round[sock], totals[sock - 1]];
  if (!roundsDone) return `Sock ${sock} not begun`;
  if (total && roundsDone >= total) return `Sock ${sock} finished`;
  const script = data && scriptOf(data, sock);
  if (!script || roundsDone >= script.total) return `Sock ${sock}: ${roundsDone} rounds done`;
  const words = sectionRound(script, roundsDone);
  return `Sock ${sock}: ${words[0].toLowerCase()}${words.slice(1)}`;
}

/** @param {Pair} pair */
function whenOf(pair) {
  const last = lastKnitted(pair);
  if (!last) return "";
  const time = new Date(last);
  const days = [0, 1].map((ago) => dayWords(new Date(Date.now() - ago * 86_400_000)));
  const day = ["today", "yesterday"][days.indexOf(dayWords(time))] ?? dayWords(time);
  return `Last knitted ${day}`;
}

/** What no server has yet. @param {Pair} pair */
function waitingOf({ unsent, made }) {
  if (made) return "Only on this device, not yet sent";
  return unsent ? `${unsent} only on this device, not yet sent` : "";
}

/** What the knitter is asked on the knit page. @param {Pair} pair */
function questionOf({ ends }) {
  const open = SOCKS.filter((sock) => conflictingEnds(ends?.[sock] ?? []).length > 1);
  if (!open.length) return "";
  const which = open.length > 1 ? "socks 1 and 2 were" : `sock ${open[0]} was`;
  return `A question is open: ${which} counted on two devices apart.`;
}
