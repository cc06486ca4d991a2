/** Two socks at a time: whose turn it is after a tap. Pure. */

/** @typedef {import("./logbook.js").Sock} Sock */

/** @param {Sock} sock @returns {Sock} */
export const otherOf = (sock) => (sock === 1 ? 2 : 1);

/**
 * After a count: the other sock, unless it is ahead or finished.
 * @param {Sock} sock the one that was counted
 * @param {Record<Sock, number>} round rounds done of each
 * @param {[number, number]} totals rounds of each
 * @returns {Sock}
 */
export function turnAfter(sock, round, totals) {
  const other = otherOf(sock);
  return round[other] <= round[sock] && round[other] < totals[other - 1] ? other : sock;
}

/**
 * Which sock was counted last, where nothing is remembered of it: the other one, if they are counted by turns.
 * @param {Sock} sock the one whose turn it is
 * @param {Record<Sock, number>} round
 * @returns {Sock}
 */
export function lastTurn(sock, round) {
  const other = otherOf(sock);
  const ahead = round[other] - round[sock];
  return round[other] && (ahead === 0 || ahead === 1) ? other : sock;
}
