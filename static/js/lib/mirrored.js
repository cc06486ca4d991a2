/**
 * Knitting from left to right, as left-handed knitters may: what of the words changes. The files of a pattern have the
 * same rule: `companion/planning/pattern/left_handed.py`.
 */

import { settings } from "./settings.js";

/** Sides that are named of needles, stitches, charts and feet; "left" may also be what remains, and "right" the right side. */
const SIDES = /\b(?:left|right)(?= (?:needle|leg|end|foot)\b)|\b(?:leaning to the|read from the) (?:left|right)\b/g;

/** Whether this phone's knitter works so. */
export function mirrors() {
  return Boolean(settings().knits);
}

/**
 * Words for this phone's knitter. Worked from left to right the whole sock is its mirror image: what is done and in
 * which order stays, and only sides that are named change.
 * @param {string} words
 */
export function mirrored(words) {
  if (!mirrors()) return words;
  return words.replace(SIDES, (found) => found.replace(/left|right/, (side) => (side === "left" ? "right" : "left")));
}
