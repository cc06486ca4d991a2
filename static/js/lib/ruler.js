/** How true the tape beside this device is: tried once along a known length, and allowed for on every check. */

const KEY = "tapeline-ruler";

/** A tape farther off than this part is none: a tenth is more than a worn one stretches (ours). */
export const FARTHEST = 0.1;

/** What a length read off the tape is multiplied by; 1 where it was not tried, or is true. */
export function rulerFactor() {
  try {
    const kept = Number(localStorage.getItem(KEY));
    return Math.abs(kept - 1) <= FARTHEST ? kept : 1;
  } catch {
    return 1; // storage may be forbidden
  }
}

/** Whether the tape was tried. */
export function rulerTried() {
  try {
    return localStorage.getItem(KEY) !== null;
  } catch {
    return false;
  }
}

/** Finer than a tape is read. @param {number} factor */
export function keepRuler(factor) {
  localStorage.setItem(KEY, factor.toFixed(4));
}

export function forgetRuler() {
  localStorage.removeItem(KEY);
}

/** Send it along with what is counted. @param {HTMLFormElement} form */
export function sendRuler(form) {
  const field = form.elements.namedItem("ruler");
  if (field instanceof HTMLInputElement) field.value = String(rulerFactor());
}
