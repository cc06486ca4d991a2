/** Charts and stripes as they are typed. A chart is written as it looks: the bottom line is the first round. */

export const MOST_ROWS = 120;
export const LEAST_STITCHES = 2; // one stitch wide are stripes
export const MOST_STITCHES = 60;

/**
 * The rows of a chart, the first round first; null when the text is no rectangle of yarns' letters.
 * @param {string} text
 * @returns {string[] | null}
 */
export function readChart(text) {
  const lines = text
    .toUpperCase()
    .split("\n")
    .map((line) => line.replace(/\s/g, ""))
    .filter(Boolean);
  const width = lines[0]?.length ?? 0;
  const sound = lines.length <= MOST_ROWS && width >= LEAST_STITCHES && width <= MOST_STITCHES;
  if (!sound || !lines.length || lines.some((line) => line.length !== width || /[^A-D]/.test(line))) return null;
  return lines.reverse();
}

/** @param {readonly string[]} rows */
export function showChart(rows) {
  return [...rows].reverse().join("\n");
}

/**
 * The rows of "A 4, B 2": a chart one stitch wide; null when the text is something else.
 * @param {string} text
 * @returns {string[] | null}
 */
export function readStripes(text) {
  const pieces = text
    .toUpperCase()
    .split(/[,;\n]/)
    .map((piece) => piece.trim())
    .filter(Boolean);
  /** @type {string[]} */
  const rows = [];
  for (const piece of pieces) {
    const [, letter, rounds] = /^([A-D])\s*(\d{1,3})$/.exec(piece) ?? [];
    if (!Number(rounds) || rows.length + Number(rounds) > MOST_ROWS) return null;
    rows.push(...Array(Number(rounds)).fill(letter));
  }
  return rows.length ? rows : null;
}
