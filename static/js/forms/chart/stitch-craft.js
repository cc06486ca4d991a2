/** A chart of stitches, as the editor draws it: a stitch in each square, the sum of each round, a palette of symbols. */

import { element } from "../../lib/dom.js";
import { beginOf, inWords, mirroredRows, resizedRows, squaresOf, unbalanced, work } from "./stitch-edit.js";
import { drawStitches, stitchSquare } from "./stitch-paper.js";

/** @typedef {import("./stitch-edit.js").Stitch} Stitch */
/** @typedef {import("./stitch-edit.js").Stitches} Stitches */
/** @typedef {import("./stitch-edit.js").StitchRows} StitchRows */

const USUAL = ["k", "p", "yo", "k2tog", "ssk", "s2kpo", "ktbl", "2/2 RC", "2/2 LC"];
/** @type {Record<string, string>} by the keys of the keyboard */
const KEYS = { K: "k", P: "p", O: "yo", "/": "k2tog", "\\": "ssk", "^": "s2kpo", T: "ktbl" };
const HOW_TO_BALANCE = "Each yarn over or other increase needs a decrease in its round; a double decrease needs two.";

/**
 * @param {Stitches} stitches
 * @param {(text: string) => Promise<import("./chart-editor.js").Reading<string[][]> | null>} read typed rows, by names
 * @returns {import("./chart-editor.js").Craft<StitchRows>}
 */
export function stitchCraft(stitches, read) {
  return {
    first: Array(8).fill(Array(8).fill("k")),
    tool: "p",
    stitches: [1, 60],
    rounds: [1, 120],
    changes: changesOf(stitches),
    async read(text) {
      const reading = await read(text);
      return reading && { ...reading, rows: reading.rows?.map((names) => squaresOf(names, stitches)) ?? null };
    },
    write: (rows) => inWords(rows, stitches),
    size: (rows) => [rows[0].length, rows.length],
    resized: resizedRows,
    paint: (rows, cells, tool) => work(rows, cells, stitches[tool]),
    draw: (paper, rows) => drawStitches(paper, rows, stitches),
    nameOf: (rows, { round, column }) => nameOf(rows[round], column, stitches),
    remarks: (rows) => remarksOn(rows, stitches),
    toolOf: (key) => KEYS[key],
    showPalette: (box, tool, rows) => showPalette(box, tool, rows, stitches),
  };
}

/** @param {Stitches} stitches @returns {import("./chart-editor.js").Craft<StitchRows>["changes"]} */
function changesOf(stitches) {
  return {
    mirror: {
      name: "Mirror",
      change: (rows) => mirroredRows(rows, stitches),
      said: "Mirrored: what leaned to one side leans to the other.",
    },
    clear: {
      name: "Clear",
      change: (rows) => rows.map((row) => Array(row.length).fill("k")),
      said: "Cleared: every stitch is knit.",
    },
  };
}

/** "2/2 RC, 3 of 4": what lies in a square. @param {readonly string[]} row @param {number} column @param {Stitches} stitches */
function nameOf(row, column, stitches) {
  const at = row.length - 1 - column;
  const begin = beginOf(row, at);
  const { name, makes } = stitches[row[begin]];
  return makes > 1 ? `${name}, ${at - begin + 1} of ${makes}` : name;
}

/** The sums of the rounds that take more than they give, or less. @param {StitchRows} rows @param {Stitches} stitches */
function remarksOn(rows, stitches) {
  const wrong = unbalanced(rows, stitches);
  const width = rows[0].length;
  if (!wrong.length) return { lines: [], hint: `Every round gives back its ${width} stitch${width > 1 ? "es" : ""}.` };
  return {
    lines: wrong.map(({ round, takes, gives }) => `Round ${round} takes ${takes} stitches and gives ${gives}.`),
    hint: HOW_TO_BALANCE,
  };
}

/**
 * Shows the usual stitches, those that the chart has, and the one in hand; the others are folded away.
 * @param {HTMLElement} box
 * @param {string | null} tool
 * @param {StitchRows} rows
 * @param {Stitches} stitches
 * @returns {string} the tool in hand, if there is one
 */
function showPalette(box, tool, rows, stitches) {
  const others = moreStitches(box, stitches);
  const there = new Set([...USUAL, ...rows.flat().filter(Boolean), ...(tool ? [tool] : [])]);
  for (const name of there) {
    const found = /** @type {HTMLElement | null} */ (box.querySelector(`[data-tool="${CSS.escape(name)}"]`));
    const button = found ?? stitchButton(stitches[name]);
    if (!found) box.append(button);
    button.setAttribute("aria-pressed", String(name === tool));
  }
  for (const button of /** @type {NodeListOf<HTMLElement>} */ (others.querySelectorAll("[data-tool]"))) {
    button.hidden = there.has(button.dataset.tool ?? "");
  }
  return tool ?? "";
}

/**
 * All stitches, folded away above the tools, which stay on the screen beside a tall chart.
 * @param {HTMLElement} box the palette
 * @param {Stitches} stitches
 */
function moreStitches(box, stitches) {
  const tools = /** @type {HTMLElement} */ (box.parentElement);
  const before = tools.previousElementSibling;
  if (before) return before;
  const all = element("div", ...Object.values(stitches).map(stitchButton));
  all.className = "palette";
  const more = element("details", element("summary", "More stitches and cables"), all);
  tools.before(more);
  return more;
}

/** @param {Stitch} stitch */
function stitchButton(stitch) {
  const button = element("button", stitchSquare(stitch), ` ${stitch.name}`);
  Object.assign(button, { type: "button", className: "button", title: stitch.means });
  button.dataset.tool = stitch.name;
  return button;
}
