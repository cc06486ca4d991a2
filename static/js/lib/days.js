/** Days and times as every page writes them (companion/words.py), whatever the browser's own language is. */

/**
 * "Sun 6 Dec 2026", here. Its parts are those that ECMA-262 has for Date.prototype.toDateString.
 * @param {Date} time
 */
export function dayWords(time) {
  const [weekday, month, day, year] = time.toDateString().split(" ");
  return `${weekday} ${Number(day)} ${month} ${year}`;
}

/** "Sun 6 Dec 2026, 18:05", here. @param {Date} time */
export function momentWords(time) {
  return `${dayWords(time)}, ${time.toTimeString().slice(0, 5)}`;
}
