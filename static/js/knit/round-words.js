/** A round's words as elements: each zone on a line of its own, shaping set apart. */

import { element } from "../lib/dom.js";
import { mirrored } from "../lib/mirrored.js";

/** @typedef {import("../pair/instructions.js").Instruction} Instruction */

/** What changes the count. Set apart by weight and underline, not by colour. */
const SHAPING =
  /\b(k2tog|ssk|skp|p2tog|ssp|k3tog|p3tog|sssk|sssp|s2kpo|sk2p|m1[lrp]|yo|kfb|pfb|pick up and (?:knit|purl))\b/i;

/**
 * @param {Instruction} instruction
 * @returns {HTMLElement[]}
 */
export function lineElements({ gist, lines }) {
  const zones = lines.map(([zone, text]) => {
    const line = element("p");
    if (zone) line.append(element("span", zone), " ");
    line.append(...text.split(SHAPING).map((part, odd) => (odd % 2 ? element("b", part) : part)));
    return line;
  });
  if (!gist) return zones;
  if (zones.length === 1) return [element("p", gist)];
  return [element("p", gist), element("div", ...zones)];
}

/**
 * The same words as one string, for speech; of a stripe with its yarn, which a part in a yarn of its own says once.
 * @param {Instruction} instruction
 */
export function spoken({ gist, lines, note, chart_row, yarn }) {
  const words = gist ? [gist] : lines.map(([zone, text]) => (zone ? `${zone}: ${unfolded(text)}` : unfolded(text)));
  return [chart_row && yarn && `In yarn ${yarn}`, ...words, mirrored(note ?? "")].filter(Boolean).join(". ");
}

/**
 * Brackets and signs cannot be heard: "[k1, p1] x 16, k2" is said as "16 times: k1, p1; then k2", "yo x 2" as "yo 2
 * times", and "2/2 RC" by the name that the standards of the yarn trade have for it.
 * @param {string} text
 */
export function unfolded(text) {
  let said = text;
  for (let inner = ""; inner !== said; ) {
    inner = said;
    said = said.replace(
      /\[([^[\]]*)\] x (\d+)(, )?/,
      (_, ops, times, more) => `${times} times: ${ops}${more ? "; then " : ""}`,
    );
  }
  return said.replace(/ x (\d+)/g, " $1 times").replace(/(\d)\/(\d) ([RL])(P?)C/g, (_, front, behind, way, purl) => {
    return `${front} over ${behind} ${way === "R" ? "right" : "left"} ${purl && "purl "}cross`;
  });
}

/** Letters of a note that leave a plain round room for a number as large as can be. */
const SHORT_NOTE = 60;

/**
 * Long instructions are set smaller, so that a round stays on one screen; so is the number beside a long note.
 * @param {Instruction} instruction
 * @returns {"short" | "middling" | "long"}
 */
export function lengthOf({ gist, lines, note }) {
  if (gist) return (note ?? "").length > SHORT_NOTE ? "middling" : "short";
  const letters = lines.reduce((sum, [, text]) => sum + text.length, 0);
  const room = letters + 15 * (lines.length - 1) + (note ?? "").length / 4;
  if (room > 85) return "long";
  return room > 24 ? "middling" : "short";
}
