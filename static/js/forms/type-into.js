/**
 * Put a value into a field as if it were typed, so that everything that follows the field follows.
 * @param {HTMLFormElement} form
 * @param {string} name
 * @param {string} value
 */
export function typeInto(form, name, value) {
  const field = /** @type {HTMLInputElement} */ (form.elements.namedItem(name));
  field.value = value;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}
