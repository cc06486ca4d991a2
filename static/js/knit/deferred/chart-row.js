/**
 * The chart beside a round that is worked by it: the rows round about, and the one to work now outlined. Of a stitch
 * pattern, whose words are complete, only which of its rounds it is.
 */

import { element, svg } from "../../lib/dom.js";
import { instructionAt } from "../../pair/instructions.js";
import { colourOf } from "../../pair/small-sock.js";
import { byId } from "../view.js";
import { lengthOf } from "../words.js";

/** @typedef {import("../../pair/instructions.js").Script} Script */
/** @typedef {import("../../pair/instructions.js").Yarn} Yarn */

const CELL = 16;
/** Rows in sight below and above the one to work: fewer beside long words, which need the room. */
const AROUND = { short: 2, middling: 2, long: 1 };
/** Room beside the rows for the arrow and the row's number, in cells. */
const BESIDE = 3;

/** Shapes in a cell that tell the yarns apart without their colours, as on the plan; the first yarn has none. */
const SIGNS = ["", "M8 6a2 2 0 1 0 .01 0z", "M4 4l8 8M12 4l-8 8", "M8 3v10"];

const chart = element("div");
chart.id = "chart";
chart.hidden = true;
byId("note").after(chart); // it comes later than those

/**
 * @param {Script} script
 * @param {number} roundsDone
 */
export function showChartRow(script, roundsDone) {
  const { chart: grid, pattern, yarns = [] } = script;
  const now = roundsDone < script.total ? instructionAt(script, roundsDone) : null;
  chart.hidden = !(grid || pattern) || !now?.chart_row;
  if (!now?.chart_row) return;
  if (pattern) chart.replaceChildren(element("p", `Round ${now.chart_row} of ${pattern.height} of the pattern`));
  if (!grid) return;
  chart.replaceChildren(
    rowsAround(grid, yarns, now.chart_row, now),
    countsOf(now.colours ?? alone(grid.rows[now.chart_row - 1], now.after), yarns),
    ...beginning(now),
  );
}

/**
 * The middle of the repeat lies at the middle of the instep, so that a round may begin within it.
 * @param {import("../../pair/instructions.js").Instruction} instruction
 */
function beginning({ chart_from: first, stitches }) {
  if (!first || first === 1) return [];
  const begins = stitches && "instep" in stitches ? "The instep begins" : "Begin";
  return [element("p", `${begins} at the bar, with stitch ${first}.`)];
}

/**
 * A row of one yarn, as in stripes, has all stitches in it.
 * @param {string} row
 * @param {number} stitches
 * @returns {Record<string, number>}
 */
function alone(row, stitches) {
  return { [row[0]]: stitches };
}

/**
 * @param {{width: number, rows: string[]}} grid
 * @param {Yarn[]} yarns
 * @param {number} row from 1, at the bottom
 * @param {import("../../pair/instructions.js").Instruction} instruction
 */
function rowsAround({ width, rows }, yarns, row, instruction) {
  const { side, chart_from: first } = instruction;
  const around = AROUND[lengthOf(instruction)];
  const lowest = Math.max(1, Math.min(row - around, rows.length - 2 * around));
  const highest = Math.min(rows.length, lowest + 2 * around);
  const high = highest - lowest + 1;
  const back = side === "WS";
  const grid = svg("svg", { viewBox: `-1 -1 ${(width + BESIDE) * CELL + 2} ${high * CELL + 2}`, role: "img" });
  grid.setAttribute("width", String((width + BESIDE) * CELL));
  const way = back ? "left to right" : "right to left";
  grid.setAttribute("aria-label", `Row ${row} of ${rows.length} of the chart, worked from ${way}`);
  const from = back ? BESIDE * CELL : 0;
  for (let number = lowest; number <= highest; number += 1) {
    const y = (highest - number) * CELL;
    [...rows[number - 1]].forEach((key, column) => grid.append(...cell(from + column * CELL, y, key, yarns)));
  }
  const y = (highest - row) * CELL;
  const outlined = { x: from, y, width: width * CELL, height: CELL };
  grid.append(
    svg("rect", { class: "under", ...outlined }),
    svg("rect", { class: "now", ...outlined }),
    ...arrow(back, width, y, row),
  );
  if (first && first > 1) grid.append(...bar(from + (width - first + 1) * CELL, y));
  return grid;
}

/**
 * @param {number} x
 * @param {number} y
 * @param {string} key
 * @param {Yarn[]} yarns
 */
function cell(x, y, key, yarns) {
  const index = Math.max(
    0,
    yarns.findIndex((yarn) => yarn.key === key),
  );
  const fill = colourOf(yarns, index);
  const square = svg("rect", { class: "cell", x, y, width: CELL, height: CELL, fill });
  if (!SIGNS[index]) return [square];
  return [
    square,
    svg("path", {
      d: SIGNS[index],
      transform: `translate(${x} ${y})`,
      stroke: inkOn(fill),
      fill: inkOn(fill),
      "stroke-width": 2,
    }),
  ];
}

/**
 * Stands before the stitch that comes first.
 * @param {number} x
 * @param {number} y
 */
function bar(x, y) {
  return ["under", "first"].map((kind) => svg("line", { class: kind, x1: x, x2: x, y1: y, y2: y + CELL }));
}

/**
 * The arrow points where the row is worked to; the number stands where it begins.
 * @param {boolean} back
 * @param {number} width
 * @param {number} y
 * @param {number} row
 */
function arrow(back, width, y, row) {
  const x = back ? 0 : width * CELL;
  const d = back ? `M${x + 30} ${y + 8}h12m-5 -5l5 5 -5 5` : `M${x + 18} ${y + 8}h-12m5 -5l-5 5 5 5`;
  const number = svg("text", { class: "row", x: x + (back ? 14 : 33), y: y + 13 }, String(row));
  return [svg("path", { class: "way", d }), number];
}

/**
 * @param {Record<string, number>} colours stitches of each yarn in the round
 * @param {Yarn[]} yarns
 */
function countsOf(colours, yarns) {
  const line = element("p");
  yarns.forEach(({ key, name }, index) => {
    if (!colours[key]) return;
    const box = { viewBox: "-1 -1 18 18", width: 18, "aria-hidden": "true" };
    const swatch = svg("svg", box, ...cell(0, 0, key, yarns));
    line.append(index ? " " : "", element("span", swatch, ` ${key}: ${colours[key]} ${name}`));
  });
  return line;
}

/** Black or white, whichever stands out: by the luminance weights of ITU-R BT.709. @param {string} colour */
function inkOn(colour) {
  const [red, green, blue] = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16));
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue > 140 ? "#000" : "#fff";
}
