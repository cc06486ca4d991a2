/** Painting the knit page. Each function sets what it is given and keeps nothing else in mind. */

import { byId, element } from "../lib/dom.js";
import {
  ahead,
  instructionAt,
  lengths,
  newYarns,
  numbered,
  patternRound,
  sectionAt,
  sectionNamed,
  sectionRound,
} from "../pair/instructions.js";
import { showLength } from "../lib/measure.js";
import { mirrored } from "../lib/mirrored.js";
import { settings } from "../lib/settings.js";
import { drawTape } from "./tape.js";
import { lengthOf, lineElements, spoken } from "./round-words.js";

/** @typedef {import("../pair/logbook.js").Sock} Sock */
/** @typedef {import("../lib/measure.js").Unit} Unit */
/** @typedef {import("../pair/instructions.js").Script} Script */

export const tape = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (byId("tape")));
const done = /** @type {HTMLButtonElement} */ (byId("done"));

/** Lines that may be waiting to be spoken. */
const LINES_TOLD = 4;

/** Letters of a name that two lines have room for beside the socks on the narrowest phone. */
const LONG_TITLE = 24;

/** What a round will show: elements as they will be, how long its words are, and the same for speech.
 * @typedef {{script: Script, roundsDone: number, parts: HTMLElement[], long: string, words: string}} Draft */

/** The round that comes next, if it was made beforehand. @type {Draft | null} */
let drafted = null;

/**
 * What stays the same from round to round.
 * @param {string} title
 * @param {Script} script
 * @param {Unit} unit
 */
export function showSock(title, script, unit) {
  document.title = `${title} · Tapeline`;
  byId("title").textContent = title;
  byId("title").toggleAttribute("data-long", title.length > LONG_TITLE);
  byId("main").classList.toggle("charted", Boolean(script.chart ?? script.pattern));
  drawTape(tape, script, unit);
}

/**
 * What is gone through before a round counts: its stitches worked by hand, or its repeats where the knitter wants that.
 * @param {Script} script
 * @param {number} roundsDone
 */
export function partsAt(script, roundsDone) {
  if (!(roundsDone >= 0 && roundsDone < script.total)) return [];
  const { parts = [], repeats = [] } = instructionAt(script, roundsDone);
  return parts.length || !settings().repeats ? parts : repeats;
}

/**
 * The round at this place, or the finished sock; answers with its words for speech.
 * @param {Script} script
 * @param {Unit} unit
 * @param {Sock} sock
 * @param {number} roundsDone
 * @param {boolean} pairDone whether both socks are finished
 * @returns {string}
 */
export function showPlace(script, unit, sock, roundsDone, pairDone) {
  for (const button of document.querySelectorAll("[data-sock]")) {
    button.setAttribute("aria-pressed", String(button.getAttribute("data-sock") === String(sock)));
  }
  if (roundsDone < script.total) return showRound(script, unit, roundsDone);
  farOf(script, unit, roundsDone).forEach(put);
  return showFinished(sock, pairDone);
}

/**
 * Make what a round will show before it is asked for, so that the next count has only to put it there.
 * @param {Script} script
 * @param {Unit} unit
 * @param {number} roundsDone
 */
export function draftPlace(script, unit, roundsDone) {
  drafted = roundsDone < script.total ? draftOf(script, unit, roundsDone) : null;
}

/**
 * Where a gauge check is made for this place.
 * @param {string} link
 * @param {Sock} sock
 * @param {number} roundsDone
 */
export function showCheckLink(link, sock, roundsDone) {
  byId("check").setAttribute("href", `/pair/${link}/check?sock=${sock}&round=${roundsDone}`);
}

/**
 * Speak through the live region, of a row's side in words and with one stop between sentences.
 * @param {string} words
 */
export function say(words) {
  byId("live").textContent = words
    .replace(/ \(([RW])S\)/g, (_, side) => `, ${side === "R" ? "right" : "wrong"} side`)
    .replaceAll("..", ".");
}

/**
 * Speak of something that has changed beside the rounds, without silencing what is said of them.
 * @param {string} words
 */
export function tell(words) {
  const told = byId("told");
  told.append(element("p", words));
  if (told.childElementCount > LINES_TOLD) told.firstElementChild?.remove();
}

/**
 * Take something off the page. The focus never falls to the page itself: it goes to the button that counts.
 * @param {Element | null | undefined} gone
 */
export function takeAway(gone) {
  if (gone?.contains(document.activeElement)) done.focus();
  gone?.remove();
}

/**
 * How the counts are kept, a line each.
 * @param {string[]} lines
 */
export function showKept(lines) {
  put(filled("kept", ...lines.map((line) => element("p", line))));
}

/**
 * Nothing to count: say why.
 * @param {string} title
 * @param {string} reason
 */
export function showNothing(title, reason) {
  byId("section").textContent = title;
  byId("ahead").replaceChildren();
  const list = element("a", "Your pairs");
  list.href = "/";
  byId("words").replaceChildren(element("p", reason), list);
  byId("round").dataset.length = "long";
  byId("main").classList.add("empty");
}

/**
 * @param {Script} script
 * @param {Unit} unit
 * @param {number} roundsDone
 */
function showRound(script, unit, roundsDone) {
  const fits = drafted?.script === script && drafted.roundsDone === roundsDone;
  const draft = fits ? drafted : draftOf(script, unit, roundsDone);
  drafted = null;
  done.hidden = false;
  done.disabled = false;
  return putAll(/** @type {Draft} */ (draft));
}

/**
 * What a round says, whether it is the knitter's or only looked at; answers with the same for speech.
 * @param {Script} script
 * @param {number} roundsDone
 */
export function showWords(script, roundsDone) {
  return putAll(wordsOf(script, roundsDone));
}

/** @param {{parts: HTMLElement[], long: string, words: string}} draft */
function putAll({ parts, long, words }) {
  parts.forEach(put);
  byId("round").dataset.length = long;
  return words;
}

/**
 * @param {Script} script
 * @param {Unit} unit
 * @param {number} roundsDone
 * @returns {Draft}
 */
function draftOf(script, unit, roundsDone) {
  const { parts, long, words } = wordsOf(script, roundsDone);
  const next = filled("done", ...label("Done", whatFollows(script, roundsDone)));
  const before = filled("ahead", ...phrases(ahead(script, roundsDone, unit)));
  const length = partsAt(script, roundsDone).length ? "beside" : long; // its steps come below
  return {
    script,
    roundsDone,
    parts: [...farOf(script, unit, roundsDone), before, next, ...parts],
    long: length,
    words,
  };
}

/**
 * @param {Script} script
 * @param {Unit} unit
 * @param {number} roundsDone
 */
function farOf(script, unit, roundsDone) {
  const long = showLength(lengths(script)[roundsDone], unit);
  return [filled("progress", `${roundsDone} of ${script.total}`), filled("length", long)];
}

/**
 * @param {Script} script
 * @param {number} roundsDone
 */
function wordsOf(script, roundsDone) {
  const instruction = instructionAt(script, roundsDone);
  const { before, after, note } = instruction;
  const parts = [
    filled("section", sectionNamed(script, roundsDone)),
    filled("number", ...numberElements(numbered(script, roundsDone))),
    filled("words", ...lineElements(instruction)),
    filled("note", mirrored(note ?? "")),
    filled("stitches", before === after ? `${after} stitches` : `${before} → ${after} stitches`),
  ];
  return { parts, long: lengthOf(instruction), words: spokenRound(script, roundsDone) };
}

/**
 * A round for speech: its section where that begins, the stitches where they change, and a yarn that comes next.
 * @param {Script} script
 * @param {number} roundsDone
 */
function spokenRound(script, roundsDone) {
  const instruction = instructionAt(script, roundsDone);
  const { before, after } = instruction;
  const begins = sectionAt(script, roundsDone).first === roundsDone;
  const number = begins ? sectionRound(script, roundsDone) : numbered(script, roundsDone);
  const stitches = before === after ? [] : [`Then ${after} stitches`];
  const yarns = newYarns(script, roundsDone).map((key) => `Yarn ${key} next`);
  return [number, patternRound(script, instruction), spoken(instruction), ...stitches, ...yarns]
    .filter(Boolean)
    .join(". ");
}

/**
 * @param {Sock} sock
 * @param {boolean} pairDone
 */
function showFinished(sock, pairDone) {
  const words = pairDone ? "The pair is finished." : `Sock ${sock} is finished.`;
  byId("ahead").replaceChildren();
  byId("section").textContent = "Finished";
  byId("number").textContent = "";
  byId("words").replaceChildren(element("p", words));
  byId("round").dataset.length = "middling";
  byId("note").textContent = "Weave in the ends.";
  byId("stitches").textContent = "";
  done.disabled = false;
  done.hidden = pairDone;
  done.replaceChildren(...label(`Sock ${3 - sock}`, "take it up"));
  return words;
}

/**
 * @param {Script} script
 * @param {number} roundsDone
 */
function whatFollows(script, roundsDone) {
  if (roundsDone + 1 === script.total) return "the sock is finished";
  return instructionAt(script, roundsDone + 1).side === "round" ? "next round" : "next row";
}

/**
 * An element of the page with other contents, to be put there later.
 * @param {string} id
 * @param {(Node | string)[]} nodes
 */
function filled(id, ...nodes) {
  const next = /** @type {HTMLElement} */ (byId(id).cloneNode());
  next.append(...nodes);
  return next;
}

/**
 * Put its contents in place of what is there, unless that is the same: what stays need not be laid out and drawn again.
 * @param {HTMLElement} next
 */
function put(next) {
  const shown = byId(next.id);
  if (!shown.isEqualNode(next)) shown.replaceChildren(...next.childNodes);
}

/** The number of the round is set apart from what it is the number of. @param {string} words */
function numberElements(words) {
  return words.split(/^(\D+)(\d+)/).map((part, odd) => (odd === 2 ? element("b", part) : part));
}

/** Phrases that only break between each other. @param {string[]} words */
function phrases(words) {
  return words.flatMap((phrase, index) => {
    const span = element("span", phrase);
    return index ? [" · ", span] : [span];
  });
}

/**
 * @param {string} big
 * @param {string} small
 */
function label(big, small) {
  return [element("b", `${big}: `), element("span", small)];
}
