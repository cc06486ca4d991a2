/**
 * The feet that this browser keeps, by name, in a database of their own. Nothing of them goes to a server. Every
 * function is one transaction and resolves when that has completed.
 */

import { answerTo, database } from "../lib/idb.js";

/** @typedef {import("../lib/units.js").Unit} Unit */

/** The plan form's fields that say from which shoe size a foot was guessed, if it was. */
export const SHOE = /** @type {const} */ (["shoe_system", "shoe_size"]);

/** The plan form's fields that measure a foot. */
export const MEASURES = /** @type {const} */ ([
  "ball_circumference",
  "foot_length",
  "ankle_circumference",
  "heel_diagonal",
  "leg_circumference",
]);

/**
 * A kept foot: what was typed of it, and in which unit; "" for what was not measured. `felt`: how the last socks for it
 * were at each part, "tight", "right" or "loose".
 * @typedef {{name: string, unit: Unit, typed: Record<string, string>, felt?: Record<string, string>}} KeptFoot
 */

/** @type {ReturnType<typeof database<"feet">>} */
const kept = database("tapeline-feet", 1, ({ db }) => db.createObjectStore("feet", { keyPath: "name" }));

/**
 * All feet kept here, by name.
 * @returns {Promise<KeptFoot[]>}
 */
export function listFeet() {
  return transact("readonly", async (feet) => {
    /** @type {KeptFoot[]} */
    const all = await answerTo(feet.getAll());
    return all.sort((one, other) => one.name.localeCompare(other.name));
  });
}

/**
 * Keep a foot under its name, in place of what was kept under it.
 * @param {KeptFoot} foot
 * @returns {Promise<KeptFoot | undefined>} the foot that was replaced
 */
export function keepFoot(foot) {
  return transact("readwrite", async (feet) => {
    const before = await answerTo(feet.get(foot.name));
    feet.put(foot);
    return before;
  });
}

/**
 * Give a foot another name.
 * @param {string} name
 * @param {string} next
 * @returns {Promise<boolean>} false when another foot has that name already, or there is none to rename
 */
export function renameFoot(name, next) {
  return transact("readwrite", async (feet) => {
    const foot = await answerTo(feet.get(name));
    if (!foot || (await answerTo(feet.get(next)))) return false;
    feet.delete(name);
    feet.put({ ...foot, name: next });
    return true;
  });
}

/**
 * Forget a foot.
 * @param {string} name
 * @returns {Promise<void>}
 */
export function forgetFoot(name) {
  return transact("readwrite", async (feet) => void feet.delete(name));
}

/**
 * @template T
 * @param {"readonly" | "readwrite"} mode
 * @param {(feet: IDBObjectStore) => Promise<T>} work
 * @returns {Promise<T>}
 */
function transact(mode, work) {
  return kept(mode, ({ feet }) => work(feet), ["feet"]);
}
