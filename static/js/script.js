/** Reading a pair's data: which round comes at a place, what it is called, and what lies ahead. Pure. */

import { showLength } from "./measure.js";

/** @typedef {import("./logbook.js").Sock} Sock */
/** @typedef {import("./measure.js").Unit} Unit */

/** `stitches` in each zone after the round. `chart_row` from 1, `chart_from`: the stitch of it that comes first on leg
 * or instep, and `colours`: stitches of each yarn, in a round that is worked by the chart. `parts`: what is done by hand stitch by stitch, in order.
 * @typedef {{side: "round" | "RS" | "WS", kind: string, before: number, after: number, note: string | null,
 *   gist: string | null, lines: [string, string][], stitches?: Record<string, number>, chart_row?: number | null,
 *   chart_from?: number | null,   colours?: Record<string, number> | null, parts?: {text: string, times: number}[]}} Instruction */

/** `first` is the index of the section's first round, from 0. `needles`: how its stitches lie when it begins.
 * `tape`: the ends from which a length up to the needles can be taken in it.
 * @typedef {{key: string, title: string, flat: boolean, first: number, count: number, needles?: string,
 *   tape?: string[]}} Section */

/** `colour` as `#rrggbb`. `metres` that the sock takes of it.
 * @typedef {{key: string, name: string, colour: string | null, metres?: number}} Yarn */

/** One sock's rounds. `rounds` holds an index into `instructions` for each round; `heights` is how many
 * rounds longer each one makes the sock: 0 for a cast-on, about a half for a short row to a tip and back. `meanings` of
 * the abbreviations; a pair kept from before they were sent has none, nor what else is marked as optional here.
 * `can_undo`: the last change of the plan can be taken back. `needle_mm`: the size of the needles.
 * @typedef {{revision: number, rounds_per_10cm: number, total: number, can_undo: boolean, meanings?: Record<string, string>,
 *   sections: Section[], instructions: Instruction[], rounds: number[], heights: number[],
 *   chart?: {width: number, rows: string[]} | null, yarns?: Yarn[], main?: string, needle_mm?: number,
 *   stitches_per_10cm?: number}} Script */

/** `cursor`: the server's number of its newest entry. `clock`: the highest clock in its logbook.
 * `yarn_used`: grams that each whole sock takes of the yarns that were weighed.
 * @typedef {{title: string, unit: Unit, cursor: number, clock: number, scripts: Script[],
 *   two_at_a_time?: boolean, sock_one_changed?: boolean,
 *   learned?: import("./gauges.js").Learned | null, yarn_warnings?: string[],
 *   yarn_used?: Record<string, [number, number]>,
 *   socks: {sock: Sock, script: number, round: number, ends: import("./logbook.js").Entry[]}[]} & import("./leader.js").Led} PairData */

/** What to call a kind of round before it comes; a plain one goes unannounced. @type {Record<string, string>} */
const KINDS = {
  setup: "set-up",
  increase: "increase",
  decrease: "decrease",
  "short-row": "short row",
  "pick-up": "picking up stitches",
  finish: "finishing",
};

/** Fewer rounds than this are told in rounds; from here on the tape says it better. */
const FEW = 6;

/**
 * @param {PairData} data
 * @param {Sock} sock
 * @returns {Script}
 */
export function scriptOf(data, sock) {
  return data.scripts[data.socks[sock - 1].script];
}

/**
 * @param {Script} script
 * @param {number} place a round's index, from 0
 * @returns {Instruction}
 */
export function instructionAt(script, place) {
  return script.instructions[script.rounds[place]];
}

/**
 * @param {Script} script
 * @param {number} place
 * @returns {Section}
 */
export function sectionAt(script, place) {
  const { sections } = script;
  return sections.filter(({ first }) => first <= place).at(-1) ?? sections[0];
}

/**
 * "Round 12 of 61", or "Row 3 of 32 (RS)" where the work is turned.
 * @param {Script} script
 * @param {number} place
 * @returns {string}
 */
export function numbered(script, place) {
  const { first, count } = sectionAt(script, place);
  const { side } = instructionAt(script, place);
  const turn = `${place - first + 1} of ${count}`;
  return side === "round" ? `Round ${turn}` : `Row ${turn} (${side})`;
}

/**
 * The sock's length in cm after each number of rounds done, from 0 to all of them.
 * @param {Script} script
 * @returns {number[]}
 */
export function lengths(script) {
  let rounds = 0;
  return [0, ...script.heights.map((height) => ((rounds += height) * 10) / script.rounds_per_10cm)];
}

/**
 * Stitches worked in each round. A short row goes over a part of the stitches, about as much as it adds in height.
 * @param {Script} script
 * @returns {number[]}
 */
export function stitchesOf({ instructions, rounds, heights }) {
  return rounds.map((number, index) => {
    const { before, after } = instructions[number];
    return Math.round((after || before) * (heights[index] || 1));
  });
}

/**
 * What lies ahead in words: the next section, and the next shaping before it.
 * @param {Script} script
 * @param {number} place
 * @param {Unit} unit
 * @returns {string[]}
 */
export function ahead(script, place, unit) {
  const next = script.sections.find(({ first }) => first > place);
  const border = next?.first ?? script.total;
  const along = lengths(script);
  const cm = along[border] - along[place];
  const words = [];
  const now = instructionAt(script, place).kind;
  let shaping = place + 1;
  while (shaping < border && instructionAt(script, shaping).kind === "plain") shaping += 1;
  const kind = shaping < border ? instructionAt(script, shaping).kind : "plain";
  if (kind in KINDS && !(shaping === place + 1 && kind === now)) {
    words.push(`${KINDS[kind]} ${soon(shaping - place, instructionAt(script, shaping).side)}`);
  }
  if (next) {
    const far = border - place > FEW && cm > 0;
    const side = instructionAt(script, place).side;
    words.push(`${next.title.toLowerCase()} ${far ? `in ${showLength(cm, unit)}` : soon(border - place, side)}`);
  }
  return words;
}

/**
 * @param {number} count
 * @param {Instruction["side"]} side
 */
function soon(count, side) {
  const noun = side === "round" ? "round" : "row";
  return count === 1 ? `next ${noun}` : `in ${count} ${noun}s`;
}
