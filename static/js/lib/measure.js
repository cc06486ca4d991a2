/** Lengths on the knit page: to the millimetre, or to the eighth of an inch as a dressmaker's tape is marked. */

/** @typedef {"cm" | "in"} Unit with inches go ounces and yards */

/** One unit in cm. The inch is exact by definition. @type {Record<Unit, number>} */
export const CM = { cm: 1, in: 2.54 };

/** One ounce in grams and one yard in metres, exact by definition. */
export const OUNCE = 28.349523125;
export const YARD = 0.9144;

/**
 * @param {number} cm
 * @param {Unit} unit
 * @returns {string}
 */
export function showLength(cm, unit) {
  if (unit === "cm") return `${cm.toFixed(1).replace(/\.0$/, "")} cm`;
  const eighths = Math.round((cm / CM.in) * 8);
  const whole = Math.floor(eighths / 8);
  const part = ["", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"][eighths % 8];
  return `${[whole || !part ? whole : "", part].filter((piece) => piece !== "").join(" ")} in`;
}
