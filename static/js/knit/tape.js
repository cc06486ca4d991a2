/**
 * The tape: one tick a round along the upper edge, centimetres or inches along the lower one at the
 * knitter's own gauge, measured from the first edge. Built once for a sock; a count only slides it.
 */

import { svg } from "../lib/dom.js";
import { CM } from "../lib/measure.js";
import { lengths } from "../pair/instructions.js";

/** @typedef {import("../lib/measure.js").Unit} Unit */
/** @typedef {import("../pair/instructions.js").Script} Script */

/** Width of one round and height of the tape in px, as in the style sheet. */
export const STEP = 16;
const HEIGHT = 86;

/** Width of a letter of a section's title in px, roughly. */
const LETTER = 9;

/** Shapes in a box 10 wide whose upper left corner is at (x, 18). @type {Record<string, (x: number) => string>} */
export const SHAPES = {
  decrease: (x) => `M${x} 18h10l-5 9z`,
  increase: (x) => `M${x} 27h10l-5 -9z`,
  setup: (x) => `M${x + 1} 18.5h8v8h-8z`,
  "short-row": (x) => `M${x} 22.5l5 -4.5 5 4.5 -5 4.5z`,
};
SHAPES["pick-up"] = SHAPES.setup;
SHAPES.finish = SHAPES.setup;

/**
 * Draw the tape of one sock.
 * @param {SVGSVGElement} tape emptied first
 * @param {Script} script
 * @param {Unit} unit
 */
export function drawTape(tape, script, unit) {
  const width = script.total * STEP;
  tape.setAttribute("viewBox", `0 0 ${width} ${HEIGHT}`);
  tape.setAttribute("width", String(width));
  tape.setAttribute("height", String(HEIGHT));
  tape.replaceChildren(
    path("ticks", ticks(script)),
    path("shaping", shaping(script)),
    ...borders(script),
    ...scale(script, unit),
  );
}

/**
 * Slide the tape so that the reading line stands after `roundsDone` rounds; a part of a round while it is dragged.
 * @param {SVGSVGElement} tape
 * @param {number} roundsDone
 */
export function slideTape(tape, roundsDone) {
  tape.style.transform = `translateX(${-roundsDone * STEP}px)`;
}

/** A tick at the end of each round, a longer one every fifth of its section. @param {Script} script */
function ticks({ sections }) {
  let d = "M0 0v15";
  for (const { first, count } of sections) {
    for (let round = 1; round <= count; round += 1) d += `M${(first + round) * STEP} 0v${round % 5 ? 9 : 15}`;
  }
  return d;
}

/** A mark in the cell of each round that is not plain. @param {Script} script */
function shaping({ rounds, instructions }) {
  const marks = rounds.map((number, index) => SHAPES[instructions[number].kind]?.(index * STEP + 3) ?? "");
  return marks.join("");
}

/**
 * A dashed line where a section begins, with its title behind it; before it where the next would be too near.
 * @param {Script} script
 */
function borders({ sections }) {
  return sections.flatMap(({ first, count, title }) => {
    const fits = count * STEP > title.length * LETTER;
    const x = first * STEP;
    const name = fits ? text("section", x + 5, 45, title) : text("section before", x - 5, 45, title);
    return [path("border", `M${x} 0v50`), name];
  });
}

/**
 * Numerals at whole units, and marks between them: halves of a centimetre, quarters of an inch.
 * @param {Script} script
 * @param {Unit} unit
 */
function scale(script, unit) {
  const parts = unit === "cm" ? 2 : 4;
  const along = lengths(script);
  let marks = "";
  const numerals = [];
  let mark = 0;
  for (let round = 0; round < along.length; round += 1) {
    const reached = (along[round] / CM[unit]) * parts;
    while (mark <= reached + 1e-9) {
      const before = round ? (along[round - 1] / CM[unit]) * parts : 0;
      const share = reached > before ? (mark - before) / (reached - before) : 1;
      const x = (round ? round - 1 + share : 0) * STEP;
      const whole = mark % parts === 0;
      marks += `M${x.toFixed(1)} ${HEIGHT}v${whole ? -13 : -7}`;
      if (whole && mark) numerals.push(text("numeral", x, 69, String(mark / parts)));
      mark += 1;
    }
  }
  return [path("marks", marks), ...numerals];
}

/**
 * @param {string} kind
 * @param {string} d
 */
function path(kind, d) {
  return svg("path", { class: kind, d });
}

/**
 * @param {string} kind
 * @param {number} x
 * @param {number} y
 * @param {string} words
 */
function text(kind, x, y, words) {
  return svg("text", { class: kind, x: x.toFixed(1), y }, words);
}
