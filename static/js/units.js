/** Lengths and gauges as knitters write them, in centimetres or inches. */

import { CM, showLength } from "./measure.js";

/** @typedef {import("./measure.js").Unit} Unit */
/** @typedef {"length" | "gauge"} Kind a length, or a count over 10 cm or 4 in */

const GAUGE_SPANS = { cm: 10, in: 4 * CM.in }; // cm that a gauge is counted over

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
  if (kind === "gauge") return oneDecimal((value / GAUGE_SPANS[from]) * GAUGE_SPANS[to]);
  return showNumber(value * CM[from], to);
}

/** @param {number} value */
function oneDecimal(value) {
  return value.toFixed(1).replace(/\.0$/, "");
}
