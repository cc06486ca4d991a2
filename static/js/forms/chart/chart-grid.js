/**
 * A colour chart on chart paper, as css/lib/chart.css colours it: the bottom row is the first round, and a row is read
 * from its right end. The server draws the same (companion/drawings/chart.py).
 */

import { svg } from "../../lib/dom.js";

/** @typedef {{ width: number, rows: readonly string[] }} Chart rows as they look, the first one worked first */
/** @typedef {{ key: string, name: string, colour?: string | null }} Yarn */
/** @typedef {{ row: number, yarn: string, from: number, over: number }} Float `row` and `from` count from 1, `from` at the right end */
/**
 * @typedef {object} Marks
 * @property {number | null} [row] the current row, from 1
 * @property {number} [around] how many rows to show below and above the current one; all without it
 * @property {readonly Float[]} [floats] long floats to mark
 */

export const CELL = 20;
export const LEFT = 14;
export const RIGHT = 38;
export const BELOW = 20;
const STRIPE = 4 * CELL; // width of a chart that is one stitch wide

/** @type {Record<string, string>} */
const COLOURS = { A: "#1f6a70", B: "#f2e7cf", C: "#c2552d", D: "#2b2f3a" };

/** How a yarn's squares are told apart without colour: a line about their middle, and how thick it is. */
/** @type {Record<string, { line: string, thick: number }>} */
const SYMBOLS = {
  A: { line: "", thick: 0 },
  B: { line: "h0", thick: 7 },
  C: { line: "m-5-5l10 10m0-10l-10 10", thick: 2 },
  D: { line: "m0-6v12", thick: 3 },
};

/** @param {Yarn} yarn */
export function colourOf(yarn) {
  return yarn.colour ?? COLOURS[yarn.key];
}

/**
 * Black or white, whichever shows on a colour (relative luminance, WCAG 2.2).
 * @param {string} colour
 */
export function inkOn(colour) {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const part = parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue > 0.179 ? "#000000" : "#ffffff";
}

/**
 * One square of a yarn, to stand beside its name.
 * @param {SVGElement} drawing
 * @param {Yarn} yarn
 */
export function showSquare(drawing, yarn) {
  const colour = colourOf(yarn);
  const { line, thick } = SYMBOLS[yarn.key];
  const symbol = { d: `M${CELL / 2} ${CELL / 2}${line}`, stroke: inkOn(colour), "stroke-width": thick };
  drawing.setAttribute("viewBox", `0 0 ${CELL} ${CELL}`);
  drawing.replaceChildren(svg("rect", { width: CELL, height: CELL, fill: colour }), svg("path", symbol));
}

/**
 * @param {SVGElement} drawing is emptied first
 * @param {Chart} chart
 * @param {readonly Yarn[]} yarns
 * @param {Marks} [marks]
 */
export function drawChart(drawing, chart, yarns, { row = null, around = chart.rows.length, floats = [] } = {}) {
  const first = row === null ? 0 : Math.max(0, row - 1 - around);
  const rows = chart.rows.slice(first, row === null ? undefined : row + around);
  const across = chart.width === 1 ? STRIPE : CELL;
  const wide = chart.width * across;
  const high = rows.length * CELL;
  drawing.setAttribute("viewBox", `0 0 ${LEFT + wide + RIGHT} ${high + BELOW}`);
  drawing.classList.add("chart");
  drawing.replaceChildren(
    ...yarns.flatMap((yarn) => squares(yarn, rows, across)),
    ...paper(chart.width, rows.length, across, first),
    ...numbers(chart.width, rows.length, across, first, row),
    ...floats.filter((float) => rows[float.row - 1 - first]).flatMap((float) => mark(float, chart.width, high, first)),
    ...(row === null ? [] : current(row - first, wide, high)),
  );
}

/**
 * One yarn's squares and their symbols, each as one path.
 * @param {Yarn} yarn
 * @param {readonly string[]} rows
 * @param {number} across width of a square
 */
function squares(yarn, rows, across) {
  const symbol = SYMBOLS[yarn.key];
  let fill = "";
  let line = "";
  rows.forEach((cells, index) => {
    const top = (rows.length - 1 - index) * CELL;
    for (const { index: at, 0: run } of cells.matchAll(new RegExp(`${yarn.key}+`, "g"))) {
      const width = run.length * across;
      fill += `M${LEFT + at * across} ${top}h${width}v${CELL}h-${width}z`;
      if (!symbol.line) continue;
      for (let each = at; each < at + run.length; each += 1) {
        line += `M${LEFT + (each + 0.5) * across} ${top + CELL / 2}${symbol.line}`;
      }
    }
  });
  const colour = colourOf(yarn);
  if (!fill) return [];
  const painted = svg("path", { class: "chart-cells", d: fill, fill: colour });
  if (!line) return [painted];
  return [
    painted,
    svg("path", { class: "chart-symbols", d: line, stroke: inkOn(colour), "stroke-width": symbol.thick }),
  ];
}

/**
 * The lines of the paper, each fifth one heavier, counted from the first stitch and the first round.
 * @param {number} width
 * @param {number} height
 * @param {number} across
 * @param {number} first rows left out below
 */
export function paper(width, height, across, first) {
  const lines = { thin: "", heavy: "" };
  for (let stitch = 0; stitch <= width; stitch += 1) {
    lines[stitch % 5 ? "thin" : "heavy"] += `M${LEFT + (width - stitch) * across} 0v${height * CELL}`;
  }
  for (let row = 0; row <= height; row += 1) {
    lines[(first + row) % 5 ? "thin" : "heavy"] += `M${LEFT} ${(height - row) * CELL}h${width * across}`;
  }
  const frame = { x: LEFT, y: 0, width: width * across, height: height * CELL };
  return [
    svg("path", { class: "chart-lines", d: lines.thin }),
    svg("path", { class: "chart-lines heavy", d: lines.heavy }),
    svg("rect", { class: "chart-frame", ...frame }),
  ];
}

/**
 * Rounds at the right edge, where they are begun, and stitches below.
 * @param {number} width
 * @param {number} height
 * @param {number} across
 * @param {number} first
 * @param {number | null} now
 */
export function numbers(width, height, across, first, now) {
  const found = [];
  for (let row = 1; row <= height; row += 1) {
    const kind = first + row === now ? "chart-row now" : "chart-row";
    found.push(text(kind, LEFT + width * across + 5, (height - row) * CELL + 14, first + row));
  }
  if (width === 1) return found;
  for (let stitch = 1; stitch <= width; stitch += 1) {
    found.push(text("chart-stitch", LEFT + (width - stitch + 0.5) * across, height * CELL + 15, stitch));
  }
  return found;
}

/**
 * A long float: a bar under the stitches it lies behind, and a sign at the row's left end.
 * @param {Float} float
 * @param {number} width
 * @param {number} high
 * @param {number} first
 */
function mark(float, width, high, first) {
  const bottom = high - (float.row - 1 - first) * CELL - 3;
  const left = width - (float.from - 1) - float.over;
  // What goes on across the join of the repeat comes in again at the right end.
  const parts =
    left >= 0
      ? [[left, float.over]]
      : [
          [0, float.over + left],
          [width + left, -left],
        ];
  const d = parts.map(([at, over]) => `M${LEFT + at * CELL + 2} ${bottom}h${over * CELL - 4}`).join("");
  return [
    svg("path", { class: "chart-float casing", d }),
    svg("path", { class: "chart-float", d }),
    text("chart-alarm", LEFT / 2, bottom - 2, "!"),
  ];
}

/**
 * The current row: a frame, and an arrow the way it is read.
 * @param {number} row among those shown
 * @param {number} wide
 * @param {number} high
 */
function current(row, wide, high) {
  const top = high - row * CELL;
  const frame = { x: LEFT, y: top, width: wide, height: CELL };
  return [
    svg("rect", { class: "chart-now casing", ...frame }),
    svg("rect", { class: "chart-now", ...frame }),
    svg("path", { class: "chart-arrow", d: `M${LEFT + wide + RIGHT - 13} ${top + CELL / 2}l10-6v12z` }),
  ];
}

/**
 * @param {string} kind
 * @param {number} x
 * @param {number} y
 * @param {string | number} words
 */
export function text(kind, x, y, words) {
  return svg("text", { class: kind, x, y }, String(words));
}
