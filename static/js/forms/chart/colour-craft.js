/** A chart of colours, as the editor draws it: a yarn in each square, floats that are too long, and a palette of yarns. */

import { element, svg } from "../../lib/dom.js";
import { cleared, flipped, floatsInWords, longFloats, mirrored, paint, resized } from "./chart-edit.js";
import { drawChart, showSquare } from "./chart-grid.js";
import { LEAST_STITCHES, MOST_ROWS, MOST_STITCHES, readChart, showChart } from "./chart-text.js";

/** @typedef {import("./chart-grid.js").Yarn} Yarn */
/** @typedef {import("./chart-edit.js").Rows} Rows */

const CATCH =
  "A strand this long catches toes: twist the yarns together every few stitches, or break it up with a stitch.";

/**
 * @param {() => Yarn[]} yarns
 * @param {() => number | null} gauge stitches over 10 cm, as far as they are typed
 * @returns {import("./chart-editor.js").Craft<Rows>}
 */
export function colourCraft(yarns, gauge) {
  return {
    first: Array(8).fill("A".repeat(8)),
    tool: "B",
    stitches: [LEAST_STITCHES, MOST_STITCHES],
    rounds: [1, MOST_ROWS],
    changes: {
      mirror: { name: "Mirror", change: mirrored, said: "Mirrored." },
      flip: { name: "Flip", change: flipped, said: "Flipped." },
      clear: { name: "Clear", change: cleared, said: "Cleared." },
    },
    read: (text) => ({ rows: readChart(text) }),
    write: showChart,
    size: (rows) => [rows[0].length, rows.length],
    resized,
    paint,
    draw(paper, rows) {
      drawChart(paper, { width: rows[0].length, rows }, yarns(), { floats: longFloats(rows, gauge()) });
    },
    nameOf(rows, { round, column }) {
      const letter = rows[round][column];
      const name = yarns().find(({ key }) => key === letter)?.name;
      return name ? `${letter}, ${name}` : letter;
    },
    remarks(rows) {
      const lines = floatsInWords(longFloats(rows, gauge()));
      return { lines, hint: lines.length ? CATCH : "" };
    },
    toolOf: (key) => yarns().find((yarn) => yarn.key === key)?.key,
    showPalette: (box, tool) => showPalette(box, tool, yarns()),
  };
}

/**
 * Shows a button for each yarn, and which of them is in hand.
 * @param {HTMLElement} box
 * @param {string | null} tool
 * @param {Yarn[]} yarns
 * @returns {string} the key of the yarn in hand, if there is one
 */
function showPalette(box, tool, yarns) {
  const inHand = yarns.some(({ key }) => key === tool) ? tool : yarns[0].key;
  const buttons = yarns.map((yarn) => {
    const found = /** @type {HTMLButtonElement | null} */ (box.querySelector(`[data-tool=${yarn.key}]`));
    const button = found ?? yarnButton(yarn.key);
    button.setAttribute("aria-pressed", String(tool !== null && yarn.key === inHand));
    /** @type {HTMLElement} */ (button.querySelector(".yarn-name")).textContent = yarn.name;
    showSquare(/** @type {SVGElement} */ (button.querySelector(".yarn-square")), yarn);
    return button;
  });
  [...box.children].forEach((child) => buttons.includes(/** @type {any} */ (child)) || child.remove());
  box.append(...buttons.filter((button) => !button.isConnected));
  return tool === null ? "" : (inHand ?? "");
}

/** @param {string} key */
function yarnButton(key) {
  const name = Object.assign(element("span"), { className: "yarn-name" });
  const button = element("button", svg("svg", { class: "yarn-square", "aria-hidden": "true" }), ` ${key} `, name);
  Object.assign(button, { type: "button", className: "button" });
  button.dataset.tool = key;
  return button;
}
