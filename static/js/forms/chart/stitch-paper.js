/** A chart of stitches on chart paper, as companion/drawings/stitch_chart.py draws it, with the symbols that it has. */

import { svg } from "../../lib/dom.js";
import { BELOW, CELL, LEFT, RIGHT, numbers, paper, text } from "./chart-grid.js";
import { unbalanced } from "./stitch-edit.js";

/** @typedef {import("./stitch-edit.js").Stitch} Stitch */
/** @typedef {import("./stitch-edit.js").Stitches} Stitches */
/** @typedef {import("./stitch-edit.js").StitchRows} StitchRows */

/**
 * @param {SVGElement} drawing is emptied first
 * @param {StitchRows} rows
 * @param {Stitches} stitches
 */
export function drawStitches(drawing, rows, stitches) {
  const [width, height] = [rows[0].length, rows.length];
  const wide = width * CELL;
  const placed = rows.flatMap((row, round) => placedIn(row, (height - 1 - round) * CELL, LEFT + wide, stitches));
  const [over, under] = [placed.filter(crosses), placed.filter((each) => !crosses(each))];
  drawing.setAttribute("viewBox", `0 0 ${LEFT + wide + RIGHT} ${height * CELL + BELOW}`);
  drawing.classList.add("chart");
  drawing.replaceChildren(
    ...under.flatMap(shapesOf),
    ...paper(width, height, CELL, 0),
    ...over.flatMap(shapesOf),
    ...numbers(width, height, CELL, 0, null),
    ...unbalanced(rows, stitches).map(({ round }) => text("chart-alarm", LEFT / 2, (height - round) * CELL + 15, "!")),
  );
}

/**
 * The squares of a stitch, to stand beside its name.
 * @param {Stitch} stitch
 */
export function stitchSquare(stitch) {
  const [width, height] = [stitch.makes * CELL, CELL];
  const box = { viewBox: `0 0 ${width} ${height}`, width, height };
  const shapes = shapesOf({ stitch, left: 0, top: 0 });
  return svg(
    "svg",
    { class: "stitch-square", "aria-hidden": "true", ...box },
    svg("rect", { width, height }),
    ...shapes,
  );
}

/** @typedef {{ stitch: Stitch, left: number, top: number }} Placed by the corner of its squares */

/**
 * @param {readonly string[]} row
 * @param {number} top
 * @param {number} right
 * @param {Stitches} stitches
 * @returns {Placed[]}
 */
function placedIn(row, top, right, stitches) {
  return row.flatMap((name, at) => {
    const stitch = stitches[name];
    return stitch ? [{ stitch, left: right - (at + stitch.makes) * CELL, top }] : [];
  });
}

/** Whether stitches cross there, and hide the lines between them. @param {Placed} placed */
function crosses({ stitch }) {
  return stitch.shapes.some(([kind]) => kind.startsWith("chart-cable"));
}

/** @param {Placed} placed */
function shapesOf({ stitch, left, top }) {
  return stitch.shapes.map(([kind, way]) => svg("path", { class: kind, d: `M${left} ${top}${way}` }));
}
