/**
 * Lets a form change between centimetres and inches at any time. What was typed is remembered with its unit,
 * so that switching there and back restores it to the letter.
 */

import { convert } from "../lib/units.js";

/** @typedef {import("../lib/units.js").Unit} Unit */
/** @typedef {import("../lib/units.js").Kind} Kind */
/** @typedef {Partial<Record<Unit, string>>} Typed what a field says in each unit, as far as known */

/** @param {HTMLFormElement} form its radio buttons are named "unit", its fields marked with data-kind */
export function followUnit(form) {
  /** @type {Map<EventTarget | null, Typed>} */
  const memory = new Map();
  const fields = /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("input[data-kind]"));
  const typedUnit = /** @type {HTMLInputElement} */ (form.elements.namedItem("typed_unit"));
  let unit = chosenUnit(form);
  tell();
  fields.forEach((field) => memory.set(field, remembered(field, unit)));

  form.addEventListener("input", ({ target }) => {
    if (memory.has(target)) memory.set(target, { [unit]: /** @type {HTMLInputElement} */ (target).value });
  });
  form.addEventListener("change", () => {
    const next = chosenUnit(form);
    if (next === unit) return;
    for (const field of fields) {
      const typed = memory.get(field) ?? {};
      const kind = /** @type {Kind} */ (field.dataset.kind);
      typed[next] ??= convert(field.value, kind, unit, next);
      field.value = typed[next] ?? field.value;
      // The number pad of some phones has no space and no slash for fractions of an inch.
      if (kind === "length") field.inputMode = next === "in" ? "text" : "decimal";
    }
    unit = next;
    tell();
  });

  function tell() {
    form.dataset.unit = unit;
    typedUnit.value = unit;
  }
}

/**
 * The unit of what is typed in a form.
 * @param {HTMLFormElement} form
 * @returns {Unit}
 */
export function chosenUnit(form) {
  return new FormData(form).get("unit") === "in" ? "in" : "cm";
}

/**
 * A usual value is another usual value in the other unit: 10 cm, 4 in.
 * @param {HTMLInputElement} field
 * @param {Unit} unit
 * @returns {Typed}
 */
function remembered(field, unit) {
  const { cm, in: inches } = field.dataset;
  return field.value === field.dataset[unit] ? { cm, in: inches } : { [unit]: field.value };
}
