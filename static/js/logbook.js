/** The logbook: everything that happened while knitting, in order. Pure; nothing here touches disk or network. */

/** @typedef {1 | 2} Sock */
/** What moves the place. @typedef {"count" | "undo" | "go"} Kind */
/** What leaves it where it is. @typedef {"note" | "try-on" | "check" | "weighing" | "length" | "withdrawal"} Remark */

/**
 * One thing that happened. `round` is the place after it: how many rounds of the sock are done.
 * `clock` is one more than the highest clock seen when it was written, so that what a device
 * wrote after reading an entry always sorts after that entry, whatever its wall clock says.
 * `data` is what a remark says. `after`: the ids of the moves that a move goes on from; without it, it goes on
 * from everything before it.
 * @typedef {{id: string, device: string, clock: number, at: string, sock: Sock, kind: Kind | Remark, round: number,
 *   data?: object, after?: string[]}} Entry
 */

/** @type {string[]} */
const MOVES = ["count", "undo", "go"];
/** Moves that one may go on from, the most the server takes. */
const MOST = 16;

/**
 * A random version 4 UUID (RFC 9562). `crypto.randomUUID` is missing on plain http addresses.
 * @returns {string}
 */
export function uuid() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/(.{8})(.{4})(.{4})(.{4})(.{12})/, "$1-$2-$3-$4-$5");
}

/**
 * @param {string} device
 * @param {number} clock the highest clock seen so far
 * @param {Sock} sock
 * @param {Entry["kind"]} kind
 * @param {number} round
 * @param {string} [at] when it happened
 * @returns {Entry}
 */
export function makeEntry(device, clock, sock, kind, round, at = new Date().toISOString()) {
  return { id: uuid(), device, clock: clock + 1, at, sock, kind, round };
}

/**
 * The same order on every device: clock, then device, then id.
 * @param {Entry} one
 * @param {Entry} other
 * @returns {number}
 */
export function order(one, other) {
  return one.clock - other.clock || compare(one.device, other.device) || compare(one.id, other.id);
}

/**
 * The moves of a sock that no other goes on from, in order. Several with different rounds: devices counted apart.
 * @param {Entry[]} entries in any order
 * @param {Sock} sock
 * @returns {Entry[]}
 */
export function endsOf(entries, sock) {
  return [...movesOf(entries, sock).reduce(withMove, new Map()).values()];
}

/**
 * @param {Map<string, Entry>} ends
 * @param {Entry} move
 */
function withMove(ends, move) {
  (move.after ?? [...ends.keys()]).forEach((id) => ends.delete(id));
  return ends.set(move.id, move);
}

/**
 * The last of the ends at each place that they have. More than one place: only the knitter knows which is right.
 * @param {Entry[]} ends
 * @returns {Entry[]}
 */
export function placesApart(ends) {
  return [...new Map(ends.map((end) => [end.round, end])).values()];
}

/**
 * What a new move goes on from: the ends that agree with where it is made. A jump says where the sock is, and so
 * settles what was counted apart.
 * @param {Entry[]} ends
 * @param {Kind} kind
 * @param {number} place
 * @returns {Entry[]}
 */
export function goneOnFrom(ends, kind, place) {
  const agrees = ends.filter(({ round }) => round === place);
  return (kind === "go" ? [...new Set([...agrees, ...ends])] : agrees).slice(0, MOST);
}

/**
 * Where undo leads: the place before the last count or go that was not undone yet.
 * A count takes back one round whatever came before it; when the logbook here is empty although
 * rounds are done (its entries have not arrived yet), one round as well.
 * @param {Entry[]} entries in any order
 * @param {Sock} sock
 * @param {number} place rounds done now
 * @returns {number}
 */
export function stepBack(entries, sock, place) {
  /** @type {number[]} */
  const before = [];
  let reached = 0;
  for (const { kind, round } of movesOf(entries, sock)) {
    if (kind === "undo") before.pop();
    else before.push(kind === "count" ? round - 1 : reached);
    reached = round;
  }
  return before.at(-1) ?? Math.max(0, place - 1);
}

/**
 * @param {Entry[]} entries
 * @param {Sock} sock
 */
function movesOf(entries, sock) {
  return entries.filter((entry) => entry.sock === sock && MOVES.includes(entry.kind)).sort(order);
}

/**
 * @param {string} one
 * @param {string} other
 */
function compare(one, other) {
  return one < other ? -1 : Number(one > other);
}
