/** Reading what was counted out of the gauge check form, where the server cannot. */

import { CM } from "./measure.js";
import { chosenUnit } from "./unit-switch.js";
import { parseNumber } from "./units.js";

/** @typedef {{count: number, over_cm: number}} Spot */
/** @typedef {"stitches" | "rounds"} What */

/** As the server takes them. */
const COUNTS = { least: 4, most: 400 };
const LENGTHS = { least: 2, most: 60 };
const SPOTS = [1, 2, 3];
/** @type {What[]} */
const WHAT = ["stitches", "rounds"];

/**
 * What was counted, or what is wrong with it in a sentence.
 * @param {HTMLFormElement} form
 * @returns {{data: Record<string, Spot[]>, wrong: ""} | {data: null, wrong: string}}
 */
export function spotsIn(form) {
  const typed = new FormData(form);
  const cm = CM[chosenUnit(form)];
  /** @type {Record<string, Spot[]>} */
  const data = {};
  for (const what of WHAT) {
    const filled = SPOTS.filter((number) => text(typed, `${what}_${number}`));
    const spots = filled.map((number) => ({
      count: parseNumber(text(typed, `${what}_${number}`)) ?? NaN,
      over_cm: (parseNumber(text(typed, `${what}_over_${number}`)) ?? NaN) * cm,
    }));
    if (!spots.every(({ count, over_cm }) => inside(count, COUNTS) && inside(over_cm, LENGTHS))) {
      return { data: null, wrong: `The ${what} cannot be right: 4 to 400 of them over 2 to 60 cm can be counted, written like 31 or 31.5.` };
    }
    if (spots.length) data[what] = spots;
  }
  if (!Object.keys(data).length) return { data: null, wrong: "Count stitches over a width, rounds over a height, or both." };
  return { data, wrong: "" };
}

/**
 * @param {FormData} typed
 * @param {string} name
 */
function text(typed, name) {
  return String(typed.get(name) ?? "").trim();
}

/**
 * @param {number} value
 * @param {{least: number, most: number}} limits
 */
function inside(value, { least, most }) {
  return value >= least && value <= most;
}
