/** The logbook: everything that happened while knitting, in order. Pure; nothing here touches disk or network. */

/** @typedef {1 | 2} Sock */
/** What moves the place. @typedef {"count" | "undo" | "go"} Kind */
/** What leaves it where it is. @typedef {"note" | "try-on" | "check" | "weighing" | "length" | "decision" | "withdrawal"} Remark */

/**
 * One thing that happened. `round` is the place after it: how many rounds of the sock are done.
 * `clock` is one more than the highest clock seen when it was written, so that what a device
 * wrote after reading an entry always sorts after that entry, whatever its wall clock says.
 * `data` is what a remark says; one that was taken back has none. `after`: the ids of the moves that a move goes on from; without it, it goes on
 * from everything before it.
 * @typedef {{id: string, device: string, clock: number, at: string, sock: Sock, kind: Kind | Remark, round: number,
 *   data?: object, after?: string[]}} Entry
 */

/** @type {string[]} */
const MOVES = ["count", "undo", "go"];
/** Moves that one may go on from, the most the server takes. */
const MOST = 16;

/** The server takes no clock above this, and no count could go on from one. */
export const HIGHEST_CLOCK = 2 ** 48;

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
 * @returns {Entry}
 */
export function makeEntry(device, clock, sock, kind, round) {
  return { id: uuid(), device, clock: clock + 1, at: new Date().toISOString(), sock, kind, round };
}

/** The later of two clocks, the one here unless the other is one to go on from. @param {number} here @param {number} other */
export function laterClock(here, other) {
  return other > HIGHEST_CLOCK ? here : Math.max(here, other);
}

/**
 * Set aside what came from elsewhere with a clock that none can go on from, and put what was written here in the
 * knowledge of it behind all others.
 * @param {import("./db.js").KeptEntry[]} entries changed where they have to be
 * @param {string} device this one's name
 * @returns {{clock: number, far: import("./db.js").KeptEntry[]}} the highest clock by then, and what was changed
 */
export function withSoundClocks(entries, device) {
  let clock = entries.reduce((highest, entry) => laterClock(highest, entry.clock), 0);
  const far = entries.filter((entry) => entry.clock > HIGHEST_CLOCK).sort((one, other) => compare(one.at, other.at));
  for (const entry of far) {
    if (entry.device === device) Object.assign(entry, { clock: ++clock, sent: 0, why: undefined });
    else Object.assign(entry, { sent: 2, why: "its clock is too far ahead of all others" });
  }
  return { clock, far };
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
export function conflictingEnds(ends) {
  return [...new Map(ends.map((end) => [end.round, end])).values()];
}

/**
 * What a new move goes on from: the ends that agree with where it is made. A jump says where the sock is, and so
 * settles what was counted apart.
 * @param {Entry[]} ends
 * @param {Kind} kind
 * @param {number} roundsDone
 * @returns {Entry[]}
 */
export function goneOnFrom(ends, kind, roundsDone) {
  const agrees = ends.filter(({ round }) => round === roundsDone);
  return (kind === "go" ? [...new Set([...agrees, ...ends])] : agrees).slice(0, MOST);
}

/**
 * Where undo leads: the place before the last count or go that was not undone yet.
 * A count takes back one round whatever came before it; when the logbook here is empty although
 * rounds are done (its entries have not arrived yet), one round as well.
 * @param {Entry[]} entries in any order
 * @param {Sock} sock
 * @param {number} roundsDone
 * @returns {number}
 */
export function stepBack(entries, sock, roundsDone) {
  /** @type {number[]} */
  const before = [];
  let reached = 0;
  for (const { kind, round } of movesOf(entries, sock)) {
    if (kind === "undo") before.pop();
    else before.push(kind === "count" ? round - 1 : reached);
    reached = round;
  }
  return before.at(-1) ?? Math.max(0, roundsDone - 1);
}

/**
 * @param {Entry[]} entries
 * @param {Sock} sock
 */
function movesOf(entries, sock) {
  return entries
    .filter((entry) => entry.sock === sock && MOVES.includes(entry.kind) && entry.clock <= HIGHEST_CLOCK)
    .sort(order);
}

/**
 * @param {string} one
 * @param {string} other
 */
function compare(one, other) {
  return one < other ? -1 : Number(one > other);
}
