/** A small sock that fills by stitches, in the yarns' colours, from the edge where it was begun. */

import { svg } from "../lib/dom.js";
import { instructionAt, stitchesOf } from "./instructions.js";

/** @typedef {import("./instructions.js").Script} Script */

/** Along the middle of the sock, from the cuff to the toe and back. */
const DOWN = "M13 6V25Q13 33 21 33H33";
const UP = "M33 33H21Q13 33 13 25V6";
/** Round the heel, which fills last where it is knitted last. */
const HEEL = "M10.5 25Q10.5 36 21.5 36";
/** Pieces that the length is coloured in. */
const PIECES = 100;

/** Colours of yarns that have none, as on the plan (companion/drawings/chart.py). */
const USUAL = ["#1f6a70", "#f2e7cf", "#c2552d", "#2b2f3a"];

/** @typedef {import("./instructions.js").Yarn} Yarn */

/**
 * The colour of a yarn, also of one that has none.
 * @param {Yarn[]} yarns
 * @param {number} index
 */
export function colourOf(yarns, index) {
  return yarns[index]?.colour ?? USUAL[index % USUAL.length];
}

/**
 * The parts of the drawing for a box of 40 x 40 with an outline of its own, and what shows how much is knitted.
 * @param {Script} script
 * @returns {{parts: SVGElement[], show: (roundsDone: number) => void}}
 */
export function smallSock(script) {
  const stitches = stitchesOf(script);
  const done = [0];
  stitches.forEach((count) => done.push(done[done.length - 1] + count));
  const border = heelFrom(script);
  const way = script.sections[0].of === "toe" ? UP : DOWN;
  const [body, bare] = [lengthwise(script, way, stitches, done, border), line(way, "bare")];
  const parts = [...body, bare];
  const bareHeel = line(HEEL, "bare-heel");
  if (border < script.total) {
    const [yarn] = Object.keys(yarnsIn(script, border, 1));
    parts.push(line(HEEL, "seam"), stretch(HEEL, "knitted-heel", 0, script, yarn, PIECES), bareHeel);
  }
  return {
    parts,
    show(roundsDone) {
      const [all, heel] = [done[border], done[script.total] - done[border]];
      uncover(bare, Math.min(done[roundsDone], all) / all);
      if (heel) uncover(bareHeel, Math.max(0, done[roundsDone] - all) / heel);
    },
  };
}

/**
 * The colours along the sock, without a heel that is worked last.
 * @param {Script} script
 * @param {string} way
 * @param {number[]} stitches of each round
 * @param {number[]} done before each round
 * @param {number} border
 */
function lengthwise(script, way, stitches, done, border) {
  /** @type {SVGElement[]} */
  const parts = [];
  for (let piece = 0, round = 0; piece < PIECES; piece += 1) {
    while (round < border - 1 && done[round + 1] < ((piece + 0.5) * done[border]) / PIECES) round += 1;
    const yarns = Object.entries(yarnsIn(script, round, stitches[round])).sort(([, one], [, other]) => other - one);
    // What is a stranded round in two yarns has the second one along its middle.
    yarns
      .slice(0, 2)
      .forEach(([key], index) => parts.push(stretch(way, index ? "second-yarn" : "knitted", piece, script, key)));
  }
  return parts;
}

/**
 * The stitches of each yarn in a round.
 * @param {Script} script
 * @param {number} roundsDone
 * @param {number} stitches
 * @returns {Record<string, number>}
 */
function yarnsIn(script, roundsDone, stitches) {
  const { chart_row: row, colours, yarn } = instructionAt(script, roundsDone);
  if (colours) return colours;
  if (yarn) return { [yarn]: stitches };
  const yarns = new Set(row && script.chart ? script.chart.rows[row - 1] : "");
  return { [yarns.size === 1 ? [...yarns][0] : (script.main ?? "A")]: stitches };
}

/** Where the heel begins that is worked last; the end where none is. @param {Script} script */
function heelFrom({ sections, total }) {
  const last = sections[sections.length - 1];
  return last.of === "heel" ? last.first : total;
}

/**
 * @param {string} way
 * @param {string} kind
 * @param {number} from
 * @param {Script} script
 * @param {string} key of the yarn
 * @param {number} [long] a little over one, so that no seam shows
 */
function stretch(way, kind, from, { yarns = [] }, key, long = 1.3) {
  const made = line(way, kind);
  const index = yarns.findIndex((yarn) => yarn.key === key);
  // The yarn of a plan without colours is the page's own.
  if (yarns[index]?.colour || index > 0) made.setAttribute("stroke", colourOf(yarns, index));
  else made.classList.add("plain");
  made.setAttribute("stroke-dasharray", `0 ${from} ${long} 200`);
  return made;
}

/** @param {string} d @param {string} kind */
function line(d, kind) {
  return svg("path", { d, class: kind, pathLength: PIECES });
}

/** Leave only what is not knitted covered. @param {SVGElement} cover @param {number} share that is knitted */
function uncover(cover, share) {
  cover.setAttribute("stroke-dasharray", `0 ${PIECES * share} 200`);
}
