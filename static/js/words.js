/** A round's words as elements: each zone on a line of its own, shaping set apart. */

/** @typedef {import("./script.js").Instruction} Instruction */

/** What changes the count. Set apart by weight and underline, not by colour. */
const SHAPING = /\b(k2tog|ssk|p2tog|ssp|k3tog|sssk|m1[lrp]|yo|kfb|pfb|pick up and (?:knit|purl))\b/i;

/**
 * @param {Instruction} instruction
 * @returns {HTMLElement[]}
 */
export function lineElements({ gist, lines }) {
  const zones = lines.map(([zone, text]) => {
    const line = document.createElement("p");
    if (zone) line.append(element("span", zone), " ");
    line.append(...text.split(SHAPING).map((part, odd) => (odd % 2 ? element("b", part) : part)));
    return line;
  });
  if (!gist) return zones;
  if (zones.length === 1) return [element("p", gist)];
  const small = element("div", "");
  small.append(...zones);
  return [element("p", gist), small];
}

/**
 * The same words as one string, for speech.
 * @param {Instruction} instruction
 */
export function spoken({ gist, lines, note }) {
  const words = gist ? [gist] : lines.map(([zone, text]) => (zone ? `${zone}: ${text}` : text));
  return [...words, note ?? ""].filter(Boolean).join(". ");
}

/**
 * Long instructions are set smaller, so that a round stays on one screen.
 * @param {Instruction} instruction
 * @returns {"short" | "middling" | "long"}
 */
export function lengthOf({ gist, lines, note }) {
  if (gist) return "short";
  const letters = lines.reduce((sum, [, text]) => sum + text.length, 0);
  const room = letters + 15 * (lines.length - 1) + (note ?? "").length / 4;
  if (room > 85) return "long";
  return room > 36 ? "middling" : "short";
}

/**
 * @param {string} name
 * @param {string} text
 */
function element(name, text) {
  const made = document.createElement(name);
  made.textContent = text;
  return made;
}
