/** The chart beside a round that is worked by it, of colours or of a stitch pattern: the rows round about, and the one to
 * work now outlined. */

import { byId, element, svg } from "../../../lib/dom.js";
import { instructionAt } from "../../../pair/instructions.js";
import { colourOf } from "../../../pair/small-sock.js";
import { rowsAround } from "./chart-frame.js";
import { patternRow } from "./pattern-row.js";

/** @typedef {import("../../../pair/instructions.js").Script} Script */
/** @typedef {import("../../../pair/instructions.js").Yarn} Yarn */

const CELL = 16;

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
  if (pattern) chart.replaceChildren(...patternRow(script, pattern, now));
  if (grid) chart.replaceChildren(...colourRow(grid, yarns, now));
}

/**
 * @param {{width: number, rows: string[]}} grid
 * @param {Yarn[]} yarns
 * @param {import("../../../pair/instructions.js").Instruction} now
 */
function colourRow({ width, rows }, yarns, now) {
  const row = Number(now.chart_row);
  /** @param {number} number @param {number} x @param {number} y */
  const draw = (number, x, y) => [...rows[number - 1]].flatMap((key, column) => cell(x + column * CELL, y, key, yarns));
  const label = `Row ${row} of ${rows.length} of the chart`;
  return [
    rowsAround({ width, height: rows.length, cell: CELL, row: draw }, row, now, label),
    countsOf(now.colours ?? alone(rows[row - 1], now.after), yarns),
    ...beginning(now),
  ];
}

/**
 * The middle of the repeat lies at the middle of the instep, so that a round may begin within it.
 * @param {import("../../../pair/instructions.js").Instruction} instruction
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
