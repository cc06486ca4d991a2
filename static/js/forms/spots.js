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
  const unit = chosenUnit(form);
  const ruler = Number(field("ruler").value) || 1;
  /** @type {Record<string, Spot[]>} */
  const data = {};
  /** @type {Wrong[]} */
  const wrong = [];
  for (const what of WHAT) {
    const counted = SPOTS.map((number) => field(`${what}_${number}`)).filter(({ value }) => value.trim());
    const one = sizeOf(form, what);
    const spots = counted.map((input) => ({
      count: read(input, one, one),
      over_cm: Math.round(1000 * ruler * read(field(input.name.replace("_", "_over_")), CM[unit])) / 1000,
    }));
    if (spots.length) data[what] = spots;
    const said = strays(what, spots) || moreThanKnitted(what, spots);
    if (said && !wrong.length) wrong.push({ field: counted[0], said });
  }
  if (!Object.keys(data).length) wrong.push({ said: form.dataset.nothing ?? "" });
  return { data, wrong };

  /** @param {string} name */
  function field(name) {
    return /** @type {HTMLInputElement} */ (form.elements.namedItem(name));
  }

  /** @param {HTMLInputElement} input @param {number} size of what it counts in @param {number} repeat stitches or rounds in what it counts */
  function read(input, size, repeat = 1) {
    const { least, most, allowedCm, allowedIn } = input.dataset;
    const value = (parseNumber(input.value.trim()) ?? NaN) * size;
    if (Number.isNaN(value)) wrong.push({ field: input, said: form.dataset.noNumber ?? "" });
    else if (!(value >= Number(least) && value <= Number(most))) {
      const said = (unit === "in" ? allowedIn : allowedCm) ?? "";
      wrong.push({ field: input, said: repeat === 1 ? said : allowedRepeats(Number(least), Number(most), repeat) });
    }
    return value;
  }

  /** Whether there cannot be so many rounds yet, and why. @param {What} what @param {Spot[]} spots */
  function moreThanKnitted(what, spots) {
    const done = field("round").value;
    const most = Math.max(...spots.map(({ count }) => count));
    if (what === "stitches" || !(most > Number(done))) return "";
    return `${most}: ${form.dataset.moreThanKnitted?.replace("{done}", done)}`;
  }

  /** Whether no fabric can be like that, and why. @param {What} what @param {Spot[]} spots */
  function strays(what, spots) {
    const planned = Number(form.dataset[what]);
    const counted = (10 * sum(spots.map(({ count }) => count))) / sum(spots.map(({ over_cm }) => over_cm));
    const { toPlainStitches, toPlainRounds } = form.dataset;
    const found = counted / (Number(what === "stitches" ? toPlainStitches : toPlainRounds) || 1);
    if (!planned || !(Math.abs(found / planned - 1) > Number(form.dataset.farthest))) return "";
    return `${per10cm(found, unit)}: ${form.dataset.strays?.replace("{planned}", per10cm(planned, unit))}`;
  }
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
