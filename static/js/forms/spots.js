/** Reading what was counted out of the gauge check form, where the server cannot: by its limits, in its words. */

import { CM } from "../lib/measure.js";
import { sizeOf } from "./repeats.js";
import { chosenUnit } from "./unit-switch.js";
import { parseNumber, rounded } from "../lib/units.js";

/** @typedef {{count: number, over_cm: number}} Spot */
/** @typedef {"stitches" | "rounds"} What */
/** What is wrong, and at which field; at none where nothing was counted. @typedef {{field?: HTMLInputElement, said: string}} Wrong */

const SPOTS = [1, 2, 3];
/** @type {What[]} */
const WHAT = ["stitches", "rounds"];

/**
 * What was counted, or what is wrong with it. The form says in `data-` attributes what is allowed, in which words,
 * and what is planned of plain knitting, where that is known.
 * @param {HTMLFormElement} form
 * @returns {{data: Record<string, Spot[]>, wrong: Wrong[]}}
 */
export function spotsIn(form) {
  /** @type {Record<string, Spot[]>} */
  const data = {};
  /** @type {Wrong[]} */
  const wrong = [];
  for (const what of WHAT) {
    const counted = SPOTS.map((number) => fieldOf(form, `${what}_${number}`)).filter(({ value }) => value.trim());
    const spots = counted.map((input) => readSpot(form, what, input, wrong));
    if (spots.length) data[what] = spots;
    const said = strays(form, what, spots) || moreThanKnitted(form, what, spots);
    if (said && !wrong.length) wrong.push({ field: counted[0], said });
  }
  if (!Object.keys(data).length) wrong.push({ said: form.dataset.nothing ?? "" });
  return { data, wrong };
}

/** @param {HTMLFormElement} form @param {string} name */
function fieldOf(form, name) {
  return /** @type {HTMLInputElement} */ (form.elements.namedItem(name));
}

/**
 * @param {HTMLFormElement} form
 * @param {What} what
 * @param {HTMLInputElement} counted
 * @param {Wrong[]} wrong takes in what is wrong with the spot
 * @returns {Spot}
 */
function readSpot(form, what, counted, wrong) {
  const unit = chosenUnit(form);
  const ruler = Number(fieldOf(form, "ruler").value) || 1;
  const repeat = sizeOf(form, what);
  const count = (parseNumber(counted.value.trim()) ?? NaN) * repeat;
  const over = fieldOf(form, counted.name.replace("_", "_over_"));
  const over_cm = (parseNumber(over.value.trim()) ?? NaN) * CM[unit];
  wrong.push(...faultsOf(form, counted, count, repeat), ...faultsOf(form, over, over_cm));
  return { count, over_cm: Math.round(1000 * ruler * over_cm) / 1000 };
}

/**
 * What is wrong with a number by its limits.
 * @param {HTMLFormElement} form
 * @param {HTMLInputElement} field
 * @param {number} value
 * @param {number} repeat the stitches or rounds in what the field counts
 * @returns {Wrong[]} one at most
 */
function faultsOf(form, field, value, repeat = 1) {
  if (Number.isNaN(value)) return [{ field, said: form.dataset.noNumber ?? "" }];
  const { least, most, allowedCm, allowedIn } = field.dataset;
  if (value >= Number(least) && value <= Number(most)) return [];
  if (repeat !== 1) return [{ field, said: allowedRepeats(Number(least), Number(most), repeat) }];
  return [{ field, said: (chosenUnit(form) === "in" ? allowedIn : allowedCm) ?? "" }];
}

/** Why there cannot be so many rounds yet. @param {HTMLFormElement} form @param {What} what @param {Spot[]} spots */
function moreThanKnitted(form, what, spots) {
  const done = fieldOf(form, "round").value;
  const most = Math.max(...spots.map(({ count }) => count));
  if (what === "stitches" || !(most > Number(done))) return "";
  return `${most}: ${form.dataset.moreThanKnitted?.replace("{done}", done)}`;
}

/** Why no fabric can be like that. @param {HTMLFormElement} form @param {What} what @param {Spot[]} spots */
function strays(form, what, spots) {
  const unit = chosenUnit(form);
  const planned = Number(form.dataset[what]);
  const counted = (10 * sum(spots.map(({ count }) => count))) / sum(spots.map(({ over_cm }) => over_cm));
  const { toPlainStitches, toPlainRounds } = form.dataset;
  const found = counted / (Number(what === "stitches" ? toPlainStitches : toPlainRounds) || 1);
  if (!planned || !(Math.abs(found / planned - 1) > Number(form.dataset.farthest))) return "";
  return `${per10cm(found, unit)}: ${form.dataset.strays?.replace("{planned}", per10cm(planned, unit))}`;
}

/** As the server says it: to the tenth, rounded to the allowed side. @param {number} least @param {number} most @param {number} size */
function allowedRepeats(least, most, size) {
  return `allowed: ${Math.ceil((10 * least) / size) / 10} to ${Math.floor((10 * most) / size) / 10}`;
}

/** @param {number[]} values */
function sum(values) {
  return values.reduce((total, value) => total + value, 0);
}

/** As the server writes it, for the tape in hand. @param {number} value @param {string} unit */
function per10cm(value, unit) {
  return unit === "in" ? `${rounded(value * 0.4 * CM.in, 1)} over 4\u00a0in` : `${rounded(value, 1)} over 10\u00a0cm`;
}
