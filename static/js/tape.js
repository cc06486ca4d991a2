/**
 * The tape: one tick a round along the upper edge, centimetres or inches along the lower one at the
 * knitter's own gauge, measured from the first edge. Built once for a sock; a count only slides it.
 */

import { CM } from "./measure.js";
import { lengths } from "./script.js";

/** @typedef {import("./measure.js").Unit} Unit */
/** @typedef {import("./script.js").Script} Script */

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
 * @param {SVGSVGElement} svg emptied first
 * @param {Script} script
 * @param {Unit} unit
 */
export function drawTape(svg, script, unit) {
  const width = script.total * STEP;
  svg.setAttribute("viewBox", `0 0 ${width} ${HEIGHT}`);
  svg.setAttribute("width", String(width));
  svg.setAttribute("height", String(HEIGHT));
  svg.replaceChildren(
    path("ticks", ticks(script)),
    path("shaping", shaping(script)),
    ...borders(script),
    ...scale(script, unit),
  );
}

/**
 * Slide the tape so that the reading line stands after `place` rounds; a part of a round while it is dragged.
 * @param {SVGSVGElement} svg
 * @param {number} place
 */
export function slideTape(svg, place) {
  svg.style.transform = `translateX(${-place * STEP}px)`;
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
  const made = document.createElementNS("http://www.w3.org/2000/svg", "path");
  made.setAttribute("class", kind);
  made.setAttribute("d", d);
  return made;
}

/**
 * @param {string} kind
 * @param {number} x
 * @param {number} y
 * @param {string} words
 */
function text(kind, x, y, words) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", "text");
  made.setAttribute("class", kind);
  made.setAttribute("x", x.toFixed(1));
  made.setAttribute("y", String(y));
  made.textContent = words;
  return made;
}
