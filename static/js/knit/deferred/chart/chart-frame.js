/** Rows of a chart round about the one to work, which is outlined: an arrow points where it is worked to, its number stands
 * where it begins, and a bar before the stitch that comes first. */

import { svg } from "../../../lib/dom.js";
import { mirrors } from "../../../lib/mirrored.js";
import { lengthOf } from "../../round-words.js";

/** Px of a square. */
const SHOWN = 16;
/** Rows in sight below and above the one to work: fewer beside long words, which need the room. */
const AROUND = { short: 2, middling: 2, long: 1 };
/** Room beside the rows for the arrow and the row's number, in squares. */
const BESIDE = 3;

/**
 * A chart as it is drawn: `cell` is the side of a square in the units of its lines; `row` draws one, from 1 at the bottom,
 * with its left upper corner at a place.
 * @typedef {{width: number, height: number, cell: number, row: (number: number, x: number, y: number) => Node[]}} Chart
 */

/**
 * @param {Chart} chart
 * @param {number} row from 1, at the bottom
 * @param {import("../../../pair/instructions.js").Instruction} instruction
 * @param {string} label
 */
export function rowsAround({ width, height, cell, row: drawn }, row, instruction, label) {
  const { side, chart_from: first } = instruction;
  const around = AROUND[lengthOf(instruction)];
  const lowest = Math.max(1, Math.min(row - around, height - 2 * around));
  const highest = Math.min(height, lowest + 2 * around);
  const high = highest - lowest + 1;
  const back = side === "WS";
  const wide = width + BESIDE;
  const frame = svg("svg", { viewBox: `-1 -1 ${wide * cell + 2} ${high * cell + 2}`, role: "img" });
  frame.setAttribute("width", String(wide * SHOWN));
  frame.setAttribute("aria-label", `${label}, worked from ${back !== mirrors() ? "left to right" : "right to left"}`);
  const from = back ? BESIDE * cell : 0;
  for (let number = lowest; number <= highest; number += 1) {
    frame.append(...drawn(number, from, (highest - number) * cell));
  }
  const y = (highest - row) * cell;
  const outlined = { x: from, y, width: width * cell, height: cell };
  frame.append(
    svg("rect", { class: "under", ...outlined }),
    svg("rect", { class: "now", ...outlined }),
    ...arrow(back, back ? 0 : width * cell, y, cell / SHOWN, row),
  );
  if (first && first > 1) frame.append(...bar(from + (width - first + 1) * cell, y, cell));
  return frame;
}

/**
 * @param {number} x
 * @param {number} y
 * @param {number} cell
 */
function bar(x, y, cell) {
  return ["under", "first"].map((kind) => svg("line", { class: kind, x1: x, x2: x, y1: y, y2: y + cell }));
}

/**
 * @param {boolean} back
 * @param {number} x
 * @param {number} y
 * @param {number} scale
 * @param {number} row
 */
function arrow(back, x, y, scale, row) {
  const d = back ? "M30 8h12m-5 -5l5 5 -5 5" : "M18 8h-12m5 -5l-5 5 5 5";
  const number = svg("text", { class: "row", x: back ? 14 : 33, y: 13 }, String(row));
  const transform = `translate(${x} ${y}) scale(${scale})`;
  return [svg("g", { transform }, svg("path", { class: "way", d }), number)];
}
