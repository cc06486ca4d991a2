/** The chart of a stitch pattern beside its round, drawn of the pieces that the server has made of it. */

import { element, svg } from "../../../lib/dom.js";
import { mirrors } from "../../../lib/mirrored.js";
import { patternRound } from "../../../pair/instructions.js";
import { rowsAround } from "./chart-frame.js";

/** @typedef {import("../../../pair/instructions.js").Script} Script */
/** @typedef {import("../../../pair/instructions.js").StitchChart} StitchChart */

/** Px of a square below which its sign cannot be read; a wider chart is moved sideways. */
const LEAST = 12;

/**
 * @param {Script} script
 * @param {StitchChart} pattern
 * @param {import("../../../pair/instructions.js").Instruction} now
 */
export function patternRow(script, pattern, now) {
  const row = Number(now.chart_row);
  const drawn = element("p", patternRound(script, now));
  if (!pattern.rows) return [drawn]; // kept by an older version
  const first = now.chart_from ?? 1;
  const begins = first > 1 ? [element("p", `The pattern begins at the bar, with stitch ${first}.`)] : [];
  return [moved(pattern, row, now), drawn, ...begins];
}

/**
 * The rows, in what can be moved sideways where they are wider than the page; they are read from the right,
 * from the left by who knits so, or from the bar.
 * @param {StitchChart} pattern
 * @param {number} row
 * @param {import("../../../pair/instructions.js").Instruction} now
 */
function moved({ width, height, cell, squares, rows }, row, now) {
  /** @param {number} number @param {number} x @param {number} y */
  const draw = (number, x, y) => stitches(rows[number - 1], squares, cell, { x, y, width });
  const frame = rowsAround({ width, height, cell, row: draw }, row, now, "Its chart");
  frame.style.minWidth = `${width * LEAST}px`;
  const box = element("div", frame);
  box.className = "sideways";
  requestAnimationFrame(() => {
    if (box.scrollWidth <= box.clientWidth) return;
    box.tabIndex = 0;
    const bar = frame.querySelector(".first");
    if (!bar) box.scrollLeft = mirrors() ? 0 : box.scrollWidth;
    else box.scrollLeft += bar.getBoundingClientRect().left - box.getBoundingClientRect().left - box.clientWidth / 2;
  });
  return box;
}

/**
 * A row of squares, and on them what is worked, from the right end on.
 * @param {number[]} row
 * @param {StitchChart["squares"]} squares
 * @param {number} cell
 * @param {{x: number, y: number, width: number}} place
 */
function stitches(row, squares, cell, { x, y, width }) {
  const paper = Array.from({ length: width }, (_, column) =>
    svg("rect", { class: "cell", x: x + column * cell, y, width: cell, height: cell }),
  );
  let right = x + width * cell;
  const signs = row.flatMap((number) => {
    const [wide, shapes] = squares[number];
    right -= wide * cell;
    const transform = `translate(${right} ${y})`;
    return shapes.map(([kind, way]) => svg("path", { class: kind, d: `M0 0${way}`, transform }));
  });
  return [...paper, ...signs];
}
