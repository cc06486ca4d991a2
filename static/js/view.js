/** Painting the knit page. Each function sets what it is given and keeps nothing else in mind. */

import { ahead, instructionAt, lengths, numbered, sectionAt } from "./script.js";
import { showLength } from "./measure.js";
import { drawTape } from "./tape.js";
import { lengthOf, lineElements, spoken } from "./words.js";

/** @typedef {import("./logbook.js").Sock} Sock */
/** @typedef {import("./measure.js").Unit} Unit */
/** @typedef {import("./script.js").Script} Script */

export const tape = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (byId("tape")));
const done = /** @type {HTMLButtonElement} */ (byId("done"));

/** What a round will show: elements as they will be, how long its words are, and the same for speech.
 * @typedef {{script: Script, place: number, parts: HTMLElement[], long: string, words: string}} Draft */

/** The round that comes next, if it was made beforehand. @type {Draft | null} */
let drafted = null;

/** @param {string} id @returns {HTMLElement} */
export function byId(id) {
  return /** @type {HTMLElement} */ (document.getElementById(id));
}

/**
 * What stays the same from round to round.
 * @param {string} title
 * @param {Script} script
 * @param {Unit} unit
 */
export function showSock(title, script, unit) {
  document.title = `${title} · Tapeline`;
  byId("title").textContent = title;
  drawTape(tape, script, unit);
}

/**
 * What the menu has of a sock: the rounds and sections to go to, the abbreviations, and whether a change can go.
 * @param {Script} script
 */
export function showMenu(script) {
  byId("go-range").textContent = `(1 to ${script.total})`;
  byId("go-round").setAttribute("max", String(script.total));
  byId("sections").replaceChildren(...script.sections.map(sectionItem));
  byId("meanings").replaceChildren(...Object.entries(script.meanings ?? {}).flatMap(meaning));
  byId("take-back").hidden = !script.can_undo;
}

/**
 * The round at this place, or the finished sock; answers with its words for speech.
 * @param {Script} script
 * @param {Unit} unit
 * @param {Sock} sock
 * @param {number} place rounds done
 * @param {boolean} pairDone whether both socks are finished
 * @returns {string}
 */
export function showPlace(script, unit, sock, place, pairDone) {
  for (const button of document.querySelectorAll("[data-sock]")) {
    button.setAttribute("aria-pressed", String(button.getAttribute("data-sock") === String(sock)));
  }
  if (place < script.total) return showRound(script, unit, place);
  farOf(script, unit, place).forEach(put);
  return showFinished(sock, pairDone);
}

/**
 * Make what a round will show before it is asked for, so that the next count has only to put it there.
 * @param {Script} script
 * @param {Unit} unit
 * @param {number} place
 */
export function draftPlace(script, unit, place) {
  drafted = place < script.total ? draftOf(script, unit, place) : null;
}

/**
 * Where the menu's links lead for this pair and place.
 * @param {string} link
 * @param {Sock} sock
 * @param {number} place
 */
export function showLinks(link, sock, place) {
  byId("plan").setAttribute("href", `/pair/${link}`);
  byId("check").setAttribute("href", `/pair/${link}/check?sock=${sock}&round=${place}`);
  byId("take-back").setAttribute("action", `/pair/${link}/check/undo`);
  byId("take-back").querySelector("[name=sock]")?.setAttribute("value", String(sock));
}

/**
 * Speak through the live region.
 * @param {string} words
 */
export function say(words) {
  byId("live").textContent = words;
}

/**
 * How the counts are kept, a line each.
 * @param {string[]} lines
 */
export function showKept(lines) {
  put(filled("kept", ...lines.map(paragraph)));
}

/**
 * Nothing to count: say why.
 * @param {string} title
 * @param {string} reason
 */
export function showNothing(title, reason) {
  byId("section").textContent = title;
  byId("ahead").replaceChildren();
  const list = document.createElement("a");
  list.href = "/";
  list.textContent = "Your pairs";
  byId("words").replaceChildren(paragraph(reason), list);
  byId("words").dataset.length = "long";
  byId("main").classList.add("empty");
}

/**
 * @param {Script} script
 * @param {Unit} unit
 * @param {number} place
 */
function showRound(script, unit, place) {
  const fits = drafted?.script === script && drafted.place === place;
  const draft = fits ? drafted : draftOf(script, unit, place);
  drafted = null;
  done.hidden = false;
  done.disabled = false;
  return putAll(/** @type {Draft} */ (draft));
}

/**
 * What a round says, whether it is the knitter's or only looked at; answers with the same for speech.
 * @param {Script} script
 * @param {number} place
 */
export function showWords(script, place) {
  return putAll(wordsOf(script, place));
}

/** @param {{parts: HTMLElement[], long: string, words: string}} draft */
function putAll({ parts, long, words }) {
  parts.forEach(put);
  byId("words").dataset.length = long;
  return words;
}

/**
 * @param {Script} script
 * @param {Unit} unit
 * @param {number} place
 * @returns {Draft}
 */
function draftOf(script, unit, place) {
  const { parts, long, words } = wordsOf(script, place);
  const next = filled("done", ...label("Done", whatFollows(script, place)));
  const before = filled("ahead", ...phrases(ahead(script, place, unit)));
  return { script, place, parts: [...farOf(script, unit, place), before, next, ...parts], long, words };
}

/**
 * @param {Script} script
 * @param {Unit} unit
 * @param {number} place
 */
function farOf(script, unit, place) {
  const long = showLength(lengths(script)[place], unit);
  return [filled("progress", `${place} of ${script.total}`), filled("length", long)];
}

/**
 * @param {Script} script
 * @param {number} place
 */
function wordsOf(script, place) {
  const instruction = instructionAt(script, place);
  const { before, after, note } = instruction;
  const parts = [
    filled("section", sectionAt(script, place).title),
    filled("number", numbered(script, place)),
    filled("words", ...lineElements(instruction)),
    filled("note", note ?? ""),
    filled("stitches", before === after ? `${after} stitches` : `${before} → ${after} stitches`),
  ];
  return { parts, long: lengthOf(instruction), words: `${numbered(script, place)}. ${spoken(instruction)}` };
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
  byId("words").replaceChildren(paragraph(words));
  byId("words").dataset.length = "middling";
  byId("note").textContent = "Weave in the ends.";
  byId("stitches").textContent = "";
  done.disabled = false;
  done.hidden = pairDone;
  done.replaceChildren(...label(`Sock ${3 - sock}`, "take it up"));
  return words;
}

/**
 * @param {Script} script
 * @param {number} place
 */
function whatFollows(script, place) {
  if (place + 1 === script.total) return "the sock is finished";
  return instructionAt(script, place + 1).side === "round" ? "next round" : "next row";
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

/** @param {import("./script.js").Section} section */
function sectionItem({ title, first, count }) {
  const item = document.createElement("li");
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button quiet";
  button.value = String(first);
  button.textContent = `${title}: ${first + 1} to ${first + count}`;
  item.append(button);
  return item;
}

/** @param {[string, string]} words an abbreviation and what it means */
function meaning([short, long]) {
  const term = document.createElement("dt");
  term.textContent = short;
  const told = document.createElement("dd");
  told.textContent = long;
  return [term, told];
}

/** Phrases that only break between each other. @param {string[]} words */
function phrases(words) {
  return words.flatMap((phrase, index) => {
    const span = document.createElement("span");
    span.textContent = phrase;
    return index ? [" · ", span] : [span];
  });
}

/**
 * @param {string} big
 * @param {string} small
 */
function label(big, small) {
  const strong = document.createElement("b");
  strong.textContent = `${big}: `;
  const span = document.createElement("span");
  span.textContent = small;
  return [strong, span];
}

/** @param {string} text */
function paragraph(text) {
  const made = document.createElement("p");
  made.textContent = text;
  return made;
}
