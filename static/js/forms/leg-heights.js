/** The height of the sock by its name in the plan form: it fills in leg and cuff, in proportion to the foot. */

import { CM, showLength } from "../lib/measure.js";
import { parseNumber } from "../lib/units.js";
import { typeInto } from "./type-into.js";
import { chosenUnit } from "./unit-switch.js";

/** @param {HTMLFormElement} form */
export function followHeights(form) {
  const height = /** @type {HTMLSelectElement} */ (form.elements.namedItem("leg_height"));
  const { foot: adults, childs, leastLeg, leastCuff } = height.dataset;
  const fields = ["leg_length", "cuff_length"].map(
    (name) => /** @type {HTMLInputElement} */ (form.elements.namedItem(name)),
  );
  let filling = false;

  form.addEventListener("input", ({ target }) => {
    if (filling) return;
    if (["foot_length", "leg_height"].includes(nameOf(target))) fill();
    if (fields.some((field) => field === target)) height.value = "";
  });

  // A child's sock is a crew sock in proportion, unless its lengths were chosen. On the way to 23 cm there is a 2.
  form.addEventListener("change", ({ target }) => {
    const asMade = fields.every(({ value, defaultValue }) => value === defaultValue);
    if (nameOf(target) !== "foot_length" || height.value || !asMade || footCm(form) >= Number(childs)) return;
    height.value = footCm(form) ? "crew" : "";
    fill();
  });

  function fill() {
    const { leg, cuff } = height.selectedOptions[0].dataset;
    if (!leg) return;
    const part = (footCm(form) || Number(adults)) / Number(adults);
    filling = true;
    put(form, "leg_length", Math.max(Number(leastLeg), halves(Number(leg) * part)));
    put(form, "cuff_length", Math.max(Number(leastCuff), halves(Number(cuff) * part)));
    filling = false;
  }
}

/** @param {HTMLFormElement} form @param {string} name @param {number} cm */
function put(form, name, cm) {
  const unit = chosenUnit(form);
  typeInto(form, name, showLength(cm, unit).slice(0, -` ${unit}`.length));
}

/** The foot's length, 0 where none is typed. @param {HTMLFormElement} form */
function footCm(form) {
  const foot = /** @type {HTMLInputElement | null} */ (form.elements.namedItem("foot_length"));
  return (parseNumber(foot?.value ?? "") ?? 0) * CM[chosenUnit(form)];
}

/** @param {EventTarget | null} field */
function nameOf(field) {
  return /** @type {HTMLInputElement} */ (field).name;
}

/** @param {number} cm */
function halves(cm) {
  return Math.floor(2 * cm + 0.5) / 2;
}
