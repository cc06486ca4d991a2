/** What can be done to the rows of a chart. Every function returns new rows; stitches and rounds count from 0 here. */

/** @typedef {import("./chart-grid.js").Float} Float */
/** @typedef {readonly string[]} Rows each as it looks; the first one is the first round */
/** @typedef {{ round: number, column: number }} Cell `column` from the left, as it looks */

const MOST_FLOAT_STITCHES = 5;
const MOST_FLOAT_CM = 2.5; // a yarn that lies loose further than these catches toes (common practice)

/**
 * The cells from one to another in a straight line, so that a fast finger leaves no gaps.
 * @param {Cell} from
 * @param {Cell} to
 * @returns {Cell[]}
 */
export function between(from, to) {
  const [rounds, columns] = [to.round - from.round, to.column - from.column];
  const steps = Math.max(Math.abs(rounds), Math.abs(columns), 1);
  return Array.from({ length: steps + 1 }, (_, step) => ({
    round: Math.round(from.round + (rounds * step) / steps),
    column: Math.round(from.column + (columns * step) / steps),
  }));
}

/**
 * @param {Rows} rows
 * @param {readonly Cell[]} cells
 * @param {string} yarn
 */
export function paint(rows, cells, yarn) {
  return rows.map((row, round) => {
    const letters = [...row];
    for (const cell of cells) if (cell.round === round) letters[cell.column] = yarn;
    return letters.join("");
  });
}

/** Left and right exchanged. @param {Rows} rows */
export function mirrored(rows) {
  return rows.map((row) => [...row].reverse().join(""));
}

/** Top and bottom exchanged. @param {Rows} rows */
export function flipped(rows) {
  return [...rows].reverse();
}

/** @param {Rows} rows */
export function cleared(rows) {
  return rows.map((row) => "A".repeat(row.length));
}

/**
 * More or fewer stitches at the left end, where a row ends, and rounds at the top.
 * @param {Rows} rows
 * @param {number} width
 * @param {number} height
 */
export function resized(rows, width, height) {
  return Array.from({ length: height }, (_, round) => (rows[round] ?? "").padStart(width, "A").slice(-width));
}

/**
 * Where a yarn lies behind too many stitches, across the join of the repeat too.
 * @param {Rows} rows
 * @param {number | null} stitchesPer10cm
 * @returns {Float[]}
 */
export function longFloats(rows, stitchesPer10cm) {
  const most = stitchesPer10cm
    ? Math.min(MOST_FLOAT_STITCHES, (MOST_FLOAT_CM * stitchesPer10cm) / 10)
    : MOST_FLOAT_STITCHES;
  return rows.flatMap((row, round) => {
    const worked = [...row].reverse();
    return [...new Set(worked)].flatMap((yarn) => {
      const used = worked.flatMap((letter, stitch) => (letter === yarn ? [stitch] : []));
      return used.flatMap((stitch, index) => {
        const next = used[index + 1] ?? used[0] + worked.length;
        const over = next - stitch - 1;
        return over > most ? [{ row: round + 1, yarn, from: ((stitch + 1) % worked.length) + 1, over }] : [];
      });
    });
  });
}

/**
 * Floats in words, those that are alike in one line: "Rounds 3, 5-7: yarn B lies behind 7 stitches."
 * @param {readonly Float[]} floats
 * @returns {string[]}
 */
export function floatsInWords(floats) {
  /** @type {Map<string, Set<number>>} */
  const alike = new Map();
  for (const { row, yarn, over } of floats) {
    const what = `yarn ${yarn} lies behind ${over} stitches`;
    alike.set(what, (alike.get(what) ?? new Set()).add(row));
  }
  return [...alike].map(([what, rows]) => `${rows.size > 1 ? "Rounds" : "Round"} ${runs([...rows])}: ${what}.`);
}

/** Numbers in words, those that follow one another as one stretch: "3, 5-7". @param {readonly number[]} numbers in order */
export function runs(numbers) {
  /** @type {[number, number][]} */
  const found = [];
  for (const number of numbers) {
    const last = found.at(-1);
    if (last && last[1] === number - 1) last[1] = number;
    else found.push([number, number]);
  }
  return found.map(([from, to]) => (from === to ? String(from) : `${from}-${to}`)).join(", ");
}
