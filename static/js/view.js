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

/** @param {string} id @returns {HTMLElement} */
export function byId(id) {
  return /** @type {HTMLElement} */ (document.getElementById(id));
}

/**
 * What stays the same from round to round: title, tape, and the menu's list of sections.
 * @param {string} title
 * @param {Script} script
 * @param {Unit} unit
 */
export function showSock(title, script, unit) {
  document.title = `${title} · Tapeline`;
  byId("title").textContent = title;
  drawTape(tape, script, unit);
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
  fill("progress", `${place} of ${script.total}`);
  fill("length", showLength(lengths(script)[place], unit));
  return place < script.total ? showRound(script, unit, place) : showFinished(sock, pairDone);
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
  fill("kept", ...lines.map(paragraph));
}

/**
 * Nothing to count: say why.
 * @param {string} title
 * @param {string} reason
 */
export function showNothing(title, reason) {
  byId("section").textContent = title;
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
  fill("ahead", ...phrases(ahead(script, place, unit)));
  done.hidden = false;
  done.disabled = false;
  fill("done", ...label("Done", whatFollows(script, place)));
  return showWords(script, place);
}

/**
 * What a round says, whether it is the knitter's or only looked at; answers with the same for speech.
 * @param {Script} script
 * @param {number} place
 */
export function showWords(script, place) {
  const instruction = instructionAt(script, place);
  fill("section", sectionAt(script, place).title);
  fill("number", numbered(script, place));
  fill("words", ...lineElements(instruction));
  byId("words").dataset.length = lengthOf(instruction);
  fill("note", instruction.note ?? "");
  const { before, after } = instruction;
  fill("stitches", before === after ? `${after} stitches` : `${before} → ${after} stitches`);
  return `${numbered(script, place)}. ${spoken(instruction)}`;
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
 * Put these in place of what is there, unless that is the same: what stays need not be laid out and drawn again.
 * @param {string} id
 * @param {(Node | string)[]} nodes
 */
function fill(id, ...nodes) {
  const shown = byId(id);
  const next = /** @type {HTMLElement} */ (shown.cloneNode());
  next.append(...nodes);
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
