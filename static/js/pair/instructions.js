/** Reading a pair's data: which round comes at a place, what it is called, and what lies ahead. Pure. */

import { showLength } from "../lib/measure.js";

/** @typedef {import("./logbook.js").Sock} Sock */
/** @typedef {import("../lib/measure.js").Unit} Unit */

/** A step inside a round, done so many times; `each` is what is done then, a stitch where that is not said.
 * @typedef {{text: string, times: number, each?: "stitch" | "repeat"}} Part */

/** `stitches` in each zone after the round. `chart_row` from 1, `chart_from`: the stitch of it that comes first on leg
 * or instep, and `colours`: stitches of each yarn, in a round that is worked by the chart. A stitch pattern has them too. `yarns`: the keys of those that it is worked in; `yarn`, of one that all of it is worked in and its words do not name. `parts`: what is done by hand stitch by stitch, in order; `repeats`: the same of a round in lace or cables, repeat by repeat.
 * @typedef {{side: "round" | "RS" | "WS", kind: string, before: number, after: number, note: string | null,
 *   gist: string | null, lines: [string, string][], stitches?: Record<string, number>, chart_row?: number | null,
 *   chart_from?: number | null, yarns?: string[], yarn?: string | null, colours?: Record<string, number> | null, parts?: Part[], repeats?: Part[]}} Instruction */

/** `of`: the part of the sock that the section belongs to. `first` is the index of its first round, from 0. `needles`: how its stitches lie when it begins.
 * `tape`: the ends from which a length up to the needles can be taken in it. `rounds_per_10cm`, where it has its own.
 * @typedef {{key: string, title: string, flat: boolean, first: number, count: number, of?: string, needles?: string,
 *   tape?: string[], rounds_per_10cm?: number}} Section */

/** `colour` as `#rrggbb`. `metres` that the sock takes of it.
 * @typedef {{key: string, name: string, colour: string | null, metres?: number}} Yarn */

/** The chart of a stitch pattern: `rows` by the numbers of their `squares`, in the order of working. Of those it has how many
 * they are, and the kinds and ways of what is drawn from their upper left corner. `to_plain`: its stitches and rounds for
 * each of plain knitting.
 * @typedef {{width: number, height: number, cell: number, squares: [number, [string, string][]][],
 *   rows: number[][], to_plain?: [number, number], counted_on?: CountedOn[]}} StitchChart */

/** Where a sock in a stitch pattern is counted on from so many rounds on; whether that is the pattern, and whether the
 * pattern lies beside it.
 * @typedef {{from: number, words: string, in_pattern: boolean, asks: boolean}} CountedOn */

/** One sock's rounds. `rounds` holds an index into `instructions` for each round; `heights` is how many
 * rounds longer each one makes the sock: 0 for a cast-on, about a half for a short row to a tip and back. `meanings` of
 * the abbreviations; a pair kept by an older version has none, nor the other optional entries.
 * `can_undo`: the last change of the plan can be taken back. `needle_mm`: the size of the needles.
 * `changed`: the change that was just accepted, after which round, and up to where nothing is ripped to take it back.
 * @typedef {{revision: number, rounds_per_10cm: number, total: number, can_undo: boolean,
 *   changed?: {at: number, free: number, words: string} | null, meanings?: Record<string, string>,
 *   sections: Section[], instructions: Instruction[], rounds: number[], heights: number[],
 *   chart?: {width: number, rows: string[]} | null, pattern?: StitchChart | null, yarns?: Yarn[], main?: string, needle_mm?: number,
 *   stitches_per_10cm?: number}} Script */

/** `epoch`: names the server's store as long as it forgets nothing. `cursor`: the server's number of its newest entry. `clock`: the highest clock in its logbook.
 * `yarn_used`: grams that each whole sock takes of the yarns that were weighed. `check_at`: for each
 * sock the rounds after which a gauge check pays.
 * @typedef {{title: string, unit: Unit, epoch?: string, cursor: number, clock: number, scripts: Script[],
 *   two_at_a_time?: boolean, asks_for_second_sock?: boolean,
 *   learned?: import("./gauges.js").Learned | null, yarn_warnings?: string[],
 *   yarn_used?: Record<string, [number, number]>, check_at?: number[][],
 *   socks: {sock: Sock, script: number, round: number, ends: import("./logbook.js").Entry[]}[]} & import("../knit/deferred/leader-notes.js").Led} PairData */

/**
 * A pair's data as the knit page carries it, packed by companion/pair/packed.py; the file of a copy has it as it is.
 * @param {any} data is changed
 * @returns {PairData}
 */
export function unpacked(data) {
  for (const script of data.scripts) {
    if (Array.isArray(script.instructions)) continue;
    /** @type {[string, unknown[]][]} */
    const entries = Object.entries(script.instructions);
    const many = Math.max(...entries.map(([, values]) => values.length));
    script.instructions = Array.from({ length: many }, (_, at) =>
      Object.fromEntries(entries.map(([entry, values]) => [entry, values[at % values.length]])),
    );
    let number = -1;
    script.rounds = script.rounds.map((/** @type {number} */ step) => (number += step + 1));
  }
  return data;
}

/** What to call a kind of round before it comes; a plain one goes unannounced. @type {Record<string, string>} */
const KINDS = {
  setup: "set-up",
  increase: "increase",
  decrease: "decrease",
  "short-row": "short row",
  "pick-up": "picking up stitches",
  finish: "finishing",
};

/** Fewer rounds than this are said in rounds; from here on the tape says it better. */
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
 * @param {number} roundsDone before this round
 * @returns {Instruction}
 */
export function instructionAt(script, roundsDone) {
  return script.instructions[script.rounds[roundsDone]];
}

/**
 * @param {Script} script
 * @param {number} roundsDone
 * @returns {Section}
 */
export function sectionAt(script, roundsDone) {
  const { sections } = script;
  return sections.filter(({ first }) => first <= roundsDone).at(-1) ?? sections[0];
}

/**
 * "Round 12 of 61", or "Row 3 of 32 (RS)" where the work is turned.
 * @param {Script} script
 * @param {number} roundsDone
 * @returns {string}
 */
export function numbered(script, roundsDone) {
  const { first, count } = sectionAt(script, roundsDone);
  const { side } = instructionAt(script, roundsDone);
  const turn = `${roundsDone - first + 1} of ${count}`;
  return side === "round" ? `Round ${turn}` : `Row ${turn} (${side})`;
}

/**
 * "Round 5 of 8 of the pattern"; empty for a round that is in no stitch pattern.
 * @param {Script} script
 * @param {Instruction} instruction
 */
export function patternRound({ pattern }, { chart_row: row }) {
  return pattern && row ? `Round ${row} of ${pattern.height} of the pattern` : "";
}

/**
 * The section of a round: "Leg", or "Heel in B" where the round is in a yarn that its words do not name.
 * @param {Script} script
 * @param {number} roundsDone
 */
export function sectionNamed(script, roundsDone) {
  const { yarn } = instructionAt(script, roundsDone);
  return `${sectionAt(script, roundsDone).title}${yarn ? ` in ${yarn}` : ""}`;
}

/**
 * The same with its section: "Leg, round 12 of 61".
 * @param {Script} script
 * @param {number} roundsDone
 */
export function sectionRound(script, roundsDone) {
  const number = numbered(script, roundsDone);
  return `${sectionNamed(script, roundsDone)}, ${number[0].toLowerCase()}${number.slice(1)}`;
}

/**
 * The sock's length in cm after each number of rounds done, from 0 to all of them. A section that was knitted before
 * the plan was changed is as long as was measured on it.
 * @param {Script} script
 * @returns {number[]}
 */
export function lengths(script) {
  let cm = 0;
  const { sections, heights, rounds_per_10cm } = script;
  return [0].concat(
    sections.flatMap(({ first, count, rounds_per_10cm: own = rounds_per_10cm }) =>
      heights.slice(first, first + count).map((height) => (cm += (height * 10) / own)),
    ),
  );
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
 * What lies ahead in words: a yarn that the next round takes up, the next shaping, and the next section.
 * @param {Script} script
 * @param {number} roundsDone
 * @param {Unit} unit
 * @returns {string[]}
 */
export function ahead(script, roundsDone, unit) {
  const next = script.sections.find(({ first }) => first > roundsDone);
  const border = next?.first ?? script.total;
  const along = lengths(script);
  const cm = along[border] - along[roundsDone];
  const words = newYarns(script, roundsDone).map(
    (key) => `yarn ${key} ${soon(1, instructionAt(script, roundsDone + 1).side)}`,
  );
  const now = instructionAt(script, roundsDone).kind;
  let shaping = roundsDone + 1;
  while (shaping < border && instructionAt(script, shaping).kind === "plain") shaping += 1;
  const kind = shaping < border ? instructionAt(script, shaping).kind : "plain";
  if (kind in KINDS && !(shaping === roundsDone + 1 && kind === now)) {
    words.push(`${KINDS[kind]} ${soon(shaping - roundsDone, instructionAt(script, shaping).side)}`);
  }
  if (next) {
    const far = border - roundsDone > FEW && cm > 0;
    const side = instructionAt(script, roundsDone).side;
    words.push(`${next.title.toLowerCase()} ${far ? `in ${showLength(cm, unit)}` : soon(border - roundsDone, side)}`);
  }
  return words;
}

/**
 * The yarns that the next round takes up and this one does not have.
 * @param {Script} script
 * @param {number} roundsDone
 */
export function newYarns(script, roundsDone) {
  if (roundsDone + 1 >= script.total) return [];
  const now = instructionAt(script, roundsDone).yarns ?? [];
  return (instructionAt(script, roundsDone + 1).yarns ?? []).filter((key) => !now.includes(key));
}

/**
 * @param {number} count
 * @param {Instruction["side"]} side
 */
function soon(count, side) {
  const noun = side === "round" ? "round" : "row";
  return count === 1 ? `next ${noun}` : `in ${count} ${noun}s`;
}
