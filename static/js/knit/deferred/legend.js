/** What the marks on the tape mean, by their shapes and in words, in the menu. */

import { byId, element, svg } from "../../lib/dom.js";
import { SHAPES } from "../tape.js";

/** @typedef {import("../../pair/instructions.js").Script} Script */

/** Kinds of rounds that share a shape stand together. @type {[string[], string][]} */
const MARKS = [
  [["increase"], "a round with increases"],
  [["decrease"], "a round with decreases"],
  [["short-row"], "a short row"],
  [["setup", "pick-up", "finish"], "setting up, picking up or finishing: read the words"],
];

/** What else is on the tape, as a path in a box of 18 by 12. @type {[string, string, string][]} */
const LINES = [
  ["ticks", "M3 0v9M15 0v12", "a round; the longer one is every fifth of its section"],
  ["border", "M9 0v12", "a new part of the sock begins"],
];

/** @type {Script | null} */
let shownFor = null;

/** List the marks that this sock has. @param {Script} script */
export function showLegend(script) {
  if (script === shownFor) return;
  shownFor = script;
  const kinds = new Set(script.instructions.map(({ kind }) => kind));
  const marks = MARKS.filter(([names]) => names.some((name) => kinds.has(name)));
  const list = element("dl");
  for (const [kind, d, words] of LINES) list.append(...row(kind, d, words, "0 0 18 12"));
  for (const [[name], words] of marks) list.append(...row("shaping", SHAPES[name](4), words, "0 16.5 18 12"));
  byId("legend").replaceChildren(element("h2", "Marks on the tape"), list);
}

/**
 * @param {string} kind
 * @param {string} d
 * @param {string} words
 * @param {string} box
 */
function row(kind, d, words, box) {
  const drawing = svg("svg", { viewBox: box, "aria-hidden": "true" }, svg("path", { class: kind, d }));
  return [element("dt", drawing), element("dd", words)];
}
