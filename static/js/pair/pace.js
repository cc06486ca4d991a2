/**
 * How fast the knitting goes, from the times of the counts. Pure. A gap between two taps is the time that a round took,
 * unless it is so long that there was a break in it, or so short that rounds were only caught up with.
 */

/** @typedef {import("./logbook.js").Entry} Entry */
/** @typedef {import("./logbook.js").Sock} Sock */

/** Seconds after which a gap is a break (ours: a round of a sock takes one to five minutes). */
export const BREAK = 600;
/** Seconds a stitch, faster than which nobody knits: two stitches a second is more than the fastest do (ours). */
const FASTEST = 0.25;
/** Rounds that the present pace is calculated from, and days for how much is knitted on one (ours). */
const RECENT_ROUNDS = 200;
const RECENT_DAYS = 28;
const DAY = 86_400_000;

/**
 * `last`: the newest entry. `perStitch`: seconds, the middle one of the recent rounds. `knitted`: seconds at the
 * needles on this pair. `perDay`: seconds at the needles on an ordinary day, days off included; null on the first.
 * `today`: seconds at the needles since midnight here.
 * @typedef {{last: Entry | null, perStitch: number | null, knitted: number, perDay: number | null, today: number}} KnittingSoFar
 */

/**
 * @param {Entry[]} entries in any order
 * @param {Record<Sock, number[]>} stitches in each round of each sock
 * @param {number} now milliseconds since 1970
 * @returns {KnittingSoFar}
 */
export function knittingSoFar(entries, stitches, now) {
  const timed = entries.map((entry) => ({ entry, time: Date.parse(entry.at) })).sort((a, b) => a.time - b.time);
  /** @type {number[]} */
  const rates = [];
  /** @type {[number, number][]} */
  const spells = [];
  for (let index = 1; index < timed.length; index += 1) {
    const { entry, time } = timed[index];
    const gap = (time - timed[index - 1].time) / 1000;
    const rate = gap / (stitches[entry.sock][entry.round - 1] || Infinity);
    const rounds = entry.kind === "count" && timed[index - 1].entry.kind === "count";
    if (gap > BREAK || (rounds && rate < FASTEST)) continue;
    spells.push([time, gap]);
    if (rounds) rates.push(rate);
  }
  return {
    last: timed.at(-1)?.entry ?? null,
    perStitch: middle(rates.slice(-RECENT_ROUNDS)),
    knitted: sum(spells),
    perDay: anOrdinaryDay(spells, now),
    today: sum(spells.filter(([time]) => time >= new Date(now).setHours(0, 0, 0, 0))),
  };
}

/**
 * @param {number} stitches that are left
 * @param {KnittingSoFar} past
 * @param {number} now milliseconds since 1970
 * @returns {{seconds: number, day: number | null} | null} `day` on which it may be finished; null while unknown
 */
export function leftOf(stitches, { perStitch, perDay }, now) {
  if (perStitch === null) return null;
  const seconds = stitches * perStitch;
  return { seconds, day: perDay ? now + Math.ceil(seconds / perDay) * DAY : null };
}

/**
 * What is left of a day until it has been an ordinary one.
 * @param {number[]} stitches of the rounds that come next
 * @param {KnittingSoFar} past
 * @returns {{seconds: number, rounds: number} | null} null while it is unknown what is ordinary
 */
export function leftToday(stitches, { perStitch, perDay, today }) {
  if (perStitch === null || perDay === null) return null;
  const seconds = Math.max(0, perDay - today);
  let [rounds, spent] = [0, 0];
  while (rounds < stitches.length && (spent += stitches[rounds] * perStitch) <= seconds) rounds += 1;
  return { seconds, rounds };
}

/**
 * @param {[number, number][]} spells when each ended and how many seconds it took
 * @param {number} now
 */
function anOrdinaryDay(spells, now) {
  const recent = spells.filter(([time]) => now - time < RECENT_DAYS * DAY);
  if (!recent.length) return null;
  const days = Math.floor((now - recent[0][0]) / DAY) + 1;
  return days > 1 ? sum(recent) / days : null;
}

/** Seconds of them together. @param {[number, number][]} spells */
function sum(spells) {
  return spells.reduce((seconds, [, gap]) => seconds + gap, 0);
}

/** The median. @param {number[]} values */
function middle(values) {
  if (!values.length) return null;
  const sorted = values.sort((one, other) => one - other);
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}
