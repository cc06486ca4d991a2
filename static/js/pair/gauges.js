/**
 * The knitter's own gauges that this browser has learned from checks: one for each yarn on each needle. They come
 * with every pair that is opened, and nothing of them is sent anywhere.
 */

import { uuid } from "./logbook.js";

const KEY = "tapeline-gauges";

/** A number over 10 cm, and how far off it may well be. @typedef {{per_10cm: number, give_or_take: number}} Found */

/**
 * What one pair has taught. `rounds` is null where they were never counted; `at` is the moment of the newest check.
 * @typedef {{yarn: string, needle_mm: number, checks: number, at: string, stitches: Found, rounds: Found | null}} Learned
 */

/** @typedef {Learned & {forgotten?: boolean}} Kept */

/**
 * Keep what a pair has taught, in place of what it had before. One that was forgotten comes back with a new check.
 * @param {string} link
 * @param {Learned | null | undefined} learned
 */
export function keepGauge(link, learned) {
  if (!learned) return;
  const kept = read();
  if (kept[link]?.at === learned.at && kept[link].checks === learned.checks) return;
  write({ ...kept, [link]: learned });
}

/**
 * A gauge for each yarn on each needle, the newest first.
 * @returns {Learned[]}
 */
export function listGauges() {
  /** @type {Map<string, Learned[]>} */
  const alike = new Map();
  for (const one of Object.values(read())) {
    if (!one.forgotten) alike.set(nameOf(one), [...(alike.get(nameOf(one)) ?? []), one]);
  }
  return [...alike.values()].map(joined).sort((one, other) => other.at.localeCompare(one.at));
}

/**
 * Forget a yarn on a needle, or take that back.
 * @param {Learned} gauge
 * @param {boolean} forgotten
 */
export function forgetGauge(gauge, forgotten) {
  const kept = Object.entries(read());
  write(
    Object.fromEntries(kept.map(([link, one]) => [link, nameOf(one) === nameOf(gauge) ? { ...one, forgotten } : one])),
  );
}

/**
 * Keep what a pair has taught without the pair's link, which is of no more use.
 * @param {string} link
 */
export function nobodysGauge(link) {
  const { [link]: taught, ...others } = read();
  if (taught) write({ ...others, [uuid()]: taught });
}

/** @param {Learned} gauge */
function nameOf({ yarn, needle_mm }) {
  return `${yarn.trim().toLowerCase()} ${needle_mm}`;
}

/**
 * What several pairs have taught of the same yarn.
 * @param {Learned[]} pairs
 * @returns {Learned}
 */
function joined(pairs) {
  const newest = pairs.reduce((one, other) => (other.at > one.at ? other : one));
  const rounds = pairs.flatMap((pair) => pair.rounds ?? []);
  return {
    ...newest,
    checks: pairs.reduce((sum, pair) => sum + pair.checks, 0),
    stitches: mean(pairs.map((pair) => pair.stitches)),
    rounds: rounds.length ? mean(rounds) : null,
  };
}

/**
 * The mean, each counted by how sure it is, with a range that holds every one of them.
 * @param {Found[]} found
 * @returns {Found}
 */
function mean(found) {
  const weights = found.map(({ give_or_take }) => give_or_take ** -2);
  const total = weights.reduce((sum, weight) => sum + weight);
  const per_10cm = found.reduce((sum, one, index) => sum + weights[index] * one.per_10cm, 0) / total;
  const apart = found.map((one) => Math.abs(one.per_10cm - per_10cm));
  return { per_10cm, give_or_take: Math.max(total ** -0.5, ...apart) };
}

/** @returns {Record<string, Kept>} by the link of the pair that taught it, or another name when that was deleted */
function read() {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? "{}");
  } catch {
    return {}; // storage may be forbidden, or what is in it may be damaged
  }
}

/** @param {Record<string, Kept>} kept */
function write(kept) {
  try {
    localStorage.setItem(KEY, JSON.stringify(kept));
  } catch {
    return; // forbidden or full: the pairs teach it again
  }
}
