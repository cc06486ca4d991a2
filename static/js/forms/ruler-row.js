/** The row of the check form in which the tape is tried: along which length it was laid, and what it says. */

import { byId } from "../lib/dom.js";
import { CM, showLength } from "../lib/measure.js";
import { FARTHEST, forgetRuler, keepRuler, rulerFactor, rulerTried, sendRuler } from "../lib/ruler.js";
import { parseNumber } from "../lib/units.js";
import { chosenUnit } from "./unit-switch.js";

/** Cm by which a tape is read wrongly at most: half a millimetre at either end (ours). */
const READING = 0.05;

/** @param {HTMLFormElement} form */
export function offerRuler(form) {
  byId("ruler").hidden = false;
  byId("ruler-keep").addEventListener("click", () => keep(form));
  byId("ruler-forget").addEventListener("click", () => {
    forgetRuler();
    show(form);
  });
  for (const unit of form.querySelectorAll("[name=unit]")) unit.addEventListener("change", () => show(form));
  show(form);
}

/** @param {HTMLFormElement} form */
function show(form) {
  const unit = chosenUnit(form);
  const ten = unit === "cm" ? 10 : 4 * CM.in;
  const factor = rulerFactor();
  const off = `${showLength(ten, unit)} on your tape are ${showExactly(ten * factor, unit)}: allowed for`;
  const inForce = byId("ruler-in-force");
  inForce.textContent = !rulerTried() ? (inForce.dataset.untried ?? "") : factor === 1 ? "it is true" : off;
  byId("ruler-forget").hidden = !rulerTried();
  sendRuler(form);
}

/** To a tenth of a millimetre: the eighth of an inch would hide what a tape is off by. @param {number} cm @param {import("../lib/measure.js").Unit} unit */
function showExactly(cm, unit) {
  return `${(cm / CM[unit]).toFixed(2)} ${unit}`;
}

/** @param {HTMLFormElement} form */
function keep(form) {
  const known = Number(/** @type {HTMLSelectElement} */ (byId("ruler-along")).value);
  const typed = /** @type {HTMLInputElement} */ (byId("ruler-says"));
  const said = (parseNumber(typed.value.trim()) ?? NaN) * CM[chosenUnit(form)];
  const factor = Math.abs(known - said) <= READING ? 1 : known / said;
  const wrong = !(Math.abs(factor - 1) <= FARTHEST);
  typed.toggleAttribute("aria-invalid", wrong);
  byId("ruler-wrong").textContent = wrong
    ? `“${typed.value}” cannot be: it is ${showLength(known, chosenUnit(form))} long. Lay the tape along it once more.`
    : "";
  if (wrong) return typed.focus();
  try {
    keepRuler(factor);
  } catch {
    byId("ruler-wrong").textContent = "This browser does not let the page keep it.";
  }
  show(form);
}
