/** Lengths, gauges and yarn as knitters write them: in centimetres, metres and grams, or in inches, yards and ounces. */

import { CM, OUNCE, YARD, showLength } from "./measure.js";

/** @typedef {import("./measure.js").Unit} Unit */
/** @typedef {"length" | "gauge" | "yardage" | "colour repeat" | "weight"} Kind a gauge is a count over 10 cm or 4 in */

/** What one of a form in inches is in one in centimetres, and the decimals that it has there. */
const INCH_FORM = {
  gauge: { one: 10 / (4 * CM.in), decimals: 1 },
  yardage: { one: YARD, decimals: 0 },
  "colour repeat": { one: YARD, decimals: 1 },
  weight: { one: OUNCE, decimals: 2 },
};

/** Decimals in a form in centimetres. */
const DECIMALS = { gauge: 1, yardage: 0, "colour repeat": 1, weight: 0 };

/** @type {Record<string, string>} */
const GLYPHS = { "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8" };

const NUMBER = /^(-?)\s*(?:(\d{1,6}\s+)?(\d{1,3})\/(\d{1,3})|(\d{1,6}(?:[.,]\d{0,6})?|[.,]\d{1,6}))$/;

/**
 * The number in "7.5", "7,5", "7 1/2" or "7½"; null when it is none.
 * @param {string} text
 * @returns {number | null}
 */
export function parseNumber(text) {
  const plain = text.replace(/[½¼¾⅛⅜⅝⅞]/g, (glyph) => GLYPHS[glyph]).trim();
  const found = NUMBER.exec(plain);
  if (!found) return null;
  const [, sign, whole = "0", top, bottom, decimal] = found;
  const size = decimal ? Number(decimal.replace(",", ".")) : Number(whole) + Number(top) / Number(bottom);
  if (!Number.isFinite(size)) return null;
  return sign ? -size : size;
}

/**
 * A length in cm as it is read off a tape, without its unit. Ease may be less than nothing.
 * @param {number} cm
 * @param {Unit} unit
 */
function showNumber(cm, unit) {
  const size = showLength(Math.abs(cm), unit).slice(0, -` ${unit}`.length);
  return cm < 0 && size !== "0" ? `-${size}` : size;
}

/**
 * What was typed in one unit, in the other. What is no number stays as it is.
 * @param {string} text
 * @param {Kind} kind
 * @param {Unit} from
 * @param {Unit} to
 */
export function convert(text, kind, from, to) {
  const value = parseNumber(text);
  if (value === null || from === to) return text;
  if (kind === "length") return showNumber(value * CM[from], to);
  const { one, decimals } = INCH_FORM[kind];
  return to === "in" ? rounded(value / one, decimals) : rounded(value * one, DECIMALS[kind]);
}

/**
 * A number to so many decimals, a whole one without.
 * @param {number} value
 * @param {number} decimals
 */
export function rounded(value, decimals) {
  return value.toFixed(decimals).replace(/\.0$/, "");
}
