/** Kept feet as a file, to carry them to another phone: saved, and read back. */

import { MEASURES, SHOE } from "../pair/feet.js";
import { saveFile } from "../lib/save-file.js";

/** @typedef {import("../pair/feet.js").KeptFoot} KeptFoot */

const FEELS = ["tight", "right", "loose"];
const LONGEST = 40; // letters of a name, or of a measurement, as the fields take them

/** @param {KeptFoot[]} feet */
export function saveInAFile(feet) {
  saveFile("feet.json", JSON.stringify({ feet }, null, 2));
}

/**
 * The feet in the text of a file; null when it is none that was saved here.
 * @param {string} text
 * @returns {KeptFoot[] | null}
 */
export function readFeet(text) {
  try {
    const { feet } = JSON.parse(text);
    const read = feet.map(footOf);
    return read.length && read.every(Boolean) ? read : null;
  } catch {
    return null;
  }
}

/**
 * @param {any} data
 * @returns {KeptFoot | null}
 */
function footOf({ name, unit, typed, felt }) {
  const values = [...MEASURES, ...SHOE].map((field) => [field, typed[field] ?? ""]);
  const sound =
    [name, ...values.map(([, value]) => value)].every(isShort) && name.trim() && ["cm", "in"].includes(unit);
  const spots = Object.entries(felt ?? {}).filter(([, feels]) => FEELS.includes(String(feels)));
  return sound
    ? {
        name: name.trim(),
        unit,
        typed: Object.fromEntries(values),
        ...(spots.length && { felt: Object.fromEntries(spots) }),
      }
    : null;
}

/** @param {unknown} text */
function isShort(text) {
  return typeof text === "string" && text.length <= LONGEST;
}
