/** Counting whole repeats of a pattern in the gauge check form: what they come to in stitches and rounds is said beside. */

import { parseNumber } from "../lib/units.js";
import { chosenUnit } from "./unit-switch.js";

/** @typedef {import("./spots.js").What} What */

/** @type {What[]} */
const WHAT = ["stitches", "rounds"];
/** What the fields are called where they are counted, and where whole repeats are. @type {Record<What, [string, string]>} */
const NAMES = { stitches: ["Stitches", "Repeats across"], rounds: ["Rounds", "Repeats up"] };
const MEASURE = "Measure how wide and high whole ones are together.";

/**
 * What one of the counted things is in stitches or rounds: 1, or those of a repeat.
 * @param {HTMLFormElement} form
 * @param {What} what
 */
export function sizeOf(form, what) {
  const { repeatStitches, repeatRounds } = form.dataset;
  if (!inRepeats(form)) return 1;
  return Number(what === "stitches" ? repeatStitches : repeatRounds) || 1;
}

/** @param {HTMLFormElement} form */
function inRepeats(form) {
  return new FormData(form).get("counted_in") === "repeats";
}

/** Offer it where the sock has a repeat, which the form says in `data-` attributes. @param {HTMLFormElement} form */
export function offerRepeats(form) {
  const choice = /** @type {HTMLElement} */ (document.getElementById("counted-in"));
  choice.hidden = !form.dataset.repeatStitches;
  if (choice.hidden) return;
  choice.addEventListener("change", () => {
    clearLengths(form);
    name(form);
  });
  form.addEventListener("input", () => tell(form));
  name(form);
}

/** The fields by what is counted in them. @param {HTMLFormElement} form */
function name(form) {
  for (const what of WHAT) {
    const [stitches, repeats] = NAMES[what];
    for (const field of fieldsOf(form, what)) {
      const label = field.labels?.[0];
      if (label) label.textContent = inRepeats(form) ? repeats : stitches;
    }
  }
  tell(form);
}

/** The usual lengths are none that whole repeats have. @param {HTMLFormElement} form */
function clearLengths(form) {
  const repeats = inRepeats(form);
  for (const field of /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("input[data-in]"))) {
    const usual = field.dataset[chosenUnit(form)] ?? "";
    if (field.value !== (repeats ? usual : "")) continue;
    field.value = repeats ? "" : usual;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
}

/** @param {HTMLFormElement} form */
function tell(form) {
  const said = /** @type {HTMLElement} */ (document.getElementById("repeat-size"));
  said.hidden = !inRepeats(form);
  if (said.hidden) return;
  const [stitches, rounds] = WHAT.map((what) => sizeOf(form, what));
  const size = `A repeat is ${some(stitches, "stitch", "es")} wide and ${some(rounds, "round", "s")} high.`;
  const sums = WHAT.flatMap((what) => sumsOf(form, what));
  said.textContent = [size, ...(sums.length ? sums : [MEASURE])].join(" ");
}

/** @param {HTMLFormElement} form @param {What} what */
function sumsOf(form, what) {
  const numbers = fieldsOf(form, what).map(({ value }) => parseNumber(value.trim()) ?? 0);
  const along = what === "stitches" ? "across" : "up";
  return numbers
    .filter(Boolean)
    .map((one) => `${some(one, "repeat", "s")} ${along}: ${one * sizeOf(form, what)} ${what}.`);
}

/** @param {HTMLFormElement} form @param {What} what @returns {HTMLInputElement[]} */
function fieldsOf(form, what) {
  return [...form.querySelectorAll("input")].filter((field) => new RegExp(`^${what}_\\d$`).test(field.name));
}

/** @param {number} number @param {string} noun @param {string} ending of several */
function some(number, noun, ending) {
  return `${number} ${noun}${number === 1 ? "" : ending}`;
}
