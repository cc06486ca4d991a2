/**
 * What can be done to the rows of a chart of stitches, and their words. A row has its squares in the order of working,
 * the first one at the right: each the name of what is worked, and nothing where that takes the square before too.
 */

import { runs } from "./chart-edit.js";

/** @typedef {import("./chart-edit.js").Cell} Cell */
/** @typedef {readonly (readonly string[])[]} StitchRows the first round first */
/**
 * A stitch as the server tells of it; `words` are those of 1 and of 97 of it, `mirrored` leans the other way.
 * @typedef {{ name: string, means: string, mirrored: string, takes: number, makes: number, words: [string, string], shapes: [string, string][] }} Stitch
 */
/** @typedef {Readonly<Record<string, Stitch>>} Stitches by their names */

const KNIT = "k";

/**
 * A row by the names of what is worked.
 * @param {readonly string[]} names
 * @param {Stitches} stitches
 */
export function squaresOf(names, stitches) {
  return names.flatMap((name) => [name, ...Array(stitches[name].makes - 1).fill("")]);
}

/** Where what covers a square begins. @param {readonly string[]} row @param {number} at */
export function beginOf(row, at) {
  let begin = at;
  while (!row[begin]) begin -= 1;
  return begin;
}

/**
 * Works something at squares; what covers several begins at the square and goes on to the left, and what it lies over
 * partly becomes knit stitches. A square that has it already stays.
 * @param {StitchRows} rows
 * @param {readonly Cell[]} cells
 * @param {Stitch} stitch
 */
export function work(rows, cells, stitch) {
  return rows.map((row, round) => {
    const here = cells.filter((cell) => cell.round === round);
    return here.reduce((worked, { column }) => workedAt(worked, worked.length - 1 - column, stitch), row);
  });
}

/**
 * @param {readonly string[]} row
 * @param {number} at
 * @param {Stitch} stitch
 */
function workedAt(row, at, { name, makes }) {
  if (makes > row.length || row[beginOf(row, at)] === name) return row;
  const begin = Math.min(at, row.length - makes);
  const cut = freed(freed(row, begin), begin + makes);
  return [...cut.slice(0, begin), name, ...Array(makes - 1).fill(""), ...cut.slice(begin + makes)];
}

/** The row with knit stitches for what lies across the border before a square. @param {readonly string[]} row @param {number} at */
function freed(row, at) {
  if (at >= row.length || row[at]) return row;
  const begin = beginOf(row, at);
  let end = at;
  while (end < row.length && !row[end]) end += 1;
  return [...row.slice(0, begin), ...Array(end - begin).fill(KNIT), ...row.slice(end)];
}

/**
 * Left and right exchanged, and what leans to one side leaning to the other.
 * @param {StitchRows} rows
 * @param {Stitches} stitches
 */
export function mirroredRows(rows, stitches) {
  return rows.map((row) => {
    const names = row.filter(Boolean).reverse();
    return squaresOf(
      names.map((name) => stitches[name].mirrored),
      stitches,
    );
  });
}

/**
 * More or fewer stitches at the left end, where a row ends, and rounds at the top.
 * @param {StitchRows} rows
 * @param {number} width
 * @param {number} height
 */
export function resizedRows(rows, width, height) {
  return Array.from({ length: height }, (_, round) => {
    const row = rows[round] ?? [];
    return [...freed(row, width).slice(0, width), ...Array(Math.max(0, width - row.length)).fill(KNIT)];
  });
}

/**
 * Every round that does not give back the stitches that it takes, by its number.
 * @param {StitchRows} rows
 * @param {Stitches} stitches
 */
export function unbalanced(rows, stitches) {
  return rows.flatMap((row, round) => {
    const takes = row.reduce((sum, name) => sum + (name ? stitches[name].takes : 0), 0);
    return takes === row.length ? [] : [{ round: round + 1, takes, gives: row.length }];
  });
}

/**
 * The rows as they are typed: a line for each round, or numbered where rounds are alike.
 * @param {StitchRows} rows
 * @param {Stitches} stitches
 */
export function inWords(rows, stitches) {
  /** @type {Map<string, number[]>} */
  const alike = new Map();
  rows.forEach((row, round) => {
    const words = wordsOf(row, stitches);
    alike.set(words, [...(alike.get(words) ?? []), round + 1]);
  });
  if (alike.size === rows.length) return [...alike.keys()].join("\n");
  return [...alike]
    .map(([words, rounds]) => `Round${rounds.length > 1 ? "s" : ""} ${runs(rounds)}: ${words}`)
    .join("\n");
}

/** @param {readonly string[]} row @param {Stitches} stitches */
function wordsOf(row, stitches) {
  const names = row.filter(Boolean);
  const period = names.findIndex((_, at) => at > 0 && names.every((name, place) => name === names[place % at]));
  const times = period > 1 && names.length % period === 0 ? names.length / period : 1;
  const words = runsOf(names.slice(0, names.length / times), stitches).join(", ");
  return times > 1 ? `[${words}] x ${times}` : words;
}

/** @param {readonly string[]} names @param {Stitches} stitches */
function runsOf(names, stitches) {
  /** @type {[string, number][]} */
  const found = [];
  for (const name of names) {
    const last = found.at(-1);
    if (last?.[0] === name) last[1] += 1;
    else found.push([name, 1]);
  }
  return found.map(([name, times]) => {
    const [one, many] = stitches[name].words;
    return times === 1 ? one : many.replace("97", String(times));
  });
}
