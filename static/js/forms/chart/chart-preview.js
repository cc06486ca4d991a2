/** A small sock with the chart over and over on its leg, and on its instep where that follows. */

import { svg } from "../../lib/dom.js";
import { colourOf } from "./chart-grid.js";

/** @typedef {import("./chart-grid.js").Yarn} Yarn */

const STITCH = 3; // wide: 32 stitches are the leg's half of a sock of 64
const ROUNDS_PER_STITCH = 1.35; // over the same length, as the planning takes it
/** Where the first round begins at the middle of the leg's front and of the instep, from the cuff down and from the toe. */
const BEGINS = { leg: ["100 36", "100 122"], foot: ["100 122", "186 122"] };

/**
 * @param {SVGElement} drawing has the patterns `preview-leg-fabric` and `preview-foot-fabric` and the parts they fill
 * @param {readonly string[]} rows the first round first
 * @param {readonly Yarn[]} yarns
 * @param {{ fromToe: boolean, instep: boolean }} sock
 */
export function showOnSock(drawing, rows, yarns, { fromToe, instep }) {
  const wide = rows[0].length * STITCH;
  const high = (rows.length * STITCH) / ROUNDS_PER_STITCH;
  const main = colourOf(yarns[0]);
  // A sock from the cuff down is worn with the chart the other way up, and the foot goes on at the leg's front.
  const turn = fromToe ? 0 : 180;
  for (const [name, angle] of /** @type {["leg" | "foot", number][]} */ ([
    ["leg", turn],
    ["foot", turn - 90],
  ])) {
    const pattern = /** @type {Element} */ (drawing.querySelector(`#preview-${name}-fabric`));
    pattern.setAttribute("width", String(wide));
    pattern.setAttribute("height", String(high));
    const begins = BEGINS[name][Number(fromToe)];
    const middle = `translate(${-wide / 2} ${-high})`;
    pattern.setAttribute("patternTransform", `translate(${begins}) rotate(${angle}) ${middle}`);
    pattern.replaceChildren(...tile(rows, yarns));
  }
  drawing.querySelector(".preview-sock")?.setAttribute("fill", main);
  drawing.querySelector(".preview-instep")?.setAttribute("fill", instep ? "url(#preview-foot-fabric)" : main);
}

/**
 * One repeat, a path for each yarn.
 * @param {readonly string[]} rows
 * @param {readonly Yarn[]} yarns
 */
function tile(rows, yarns) {
  const tall = STITCH / ROUNDS_PER_STITCH;
  return yarns.map((yarn) => {
    const d = rows.flatMap((row, round) =>
      [...row.matchAll(new RegExp(`${yarn.key}+`, "g"))].map(({ index, 0: run }) => {
        const top = (rows.length - 1 - round) * tall;
        return `M${index * STITCH} ${top.toFixed(3)}h${run.length * STITCH}v${tall.toFixed(3)}h-${run.length * STITCH}z`;
      }),
    );
    return svg("path", { d: d.join(""), fill: colourOf(yarn) });
  });
}
