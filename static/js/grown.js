/** The small sock: it fills by stitches, in the yarns' colours, from the edge where it was begun. */

import { colourOf } from "./chart-row.js";
import { instructionAt, stitchesOf } from "./script.js";
import { byId } from "./view.js";

/** @typedef {import("./script.js").Script} Script */

/** Along the middle of the sock, from the cuff to the toe and back. */
const DOWN = "M13 6V25Q13 33 21 33H33";
const UP = "M33 33H21Q13 33 13 25V6";
/** Round the heel, which an afterthought heel fills last. */
const HEEL = "M10.5 25Q10.5 36 21.5 36";
/** Pieces that the length is coloured in. */
const PIECES = 100;

/** The script that is drawn, and the stitches done before each of its rounds. @type {Script | null} */
let drawn = null;
/** @type {number[]} */
let done = [];

/**
 * @param {Script} script
 * @param {number} place rounds done
 */
export function showGrown(script, place) {
  if (script !== drawn) draw(script);
  const border = heelFrom(script);
  const [body, heel] = [done[border], done[script.total] - done[border]];
  hide("bare", (PIECES * Math.min(done[place], body)) / body);
  if (heel) hide("bare-heel", (PIECES * Math.max(0, done[place] - body)) / heel);
}

/**
 * The stitches of each yarn in a round.
 * @param {Script} script
 * @param {number} place
 * @param {number} stitches
 * @returns {Record<string, number>}
 */
function yarnsIn(script, place, stitches) {
  const { chart_row: row, colours } = instructionAt(script, place);
  if (colours) return colours;
  const yarns = new Set(row && script.chart ? script.chart.rows[row - 1] : "");
  return { [yarns.size === 1 ? [...yarns][0] : script.main ?? "A"]: stitches };
}

/** Where the heel begins that is worked last; the end where none is. @param {Script} script */
function heelFrom({ sections, total }) {
  const last = sections[sections.length - 1];
  return last.key === "heel" ? last.first : total;
}

/** @param {Script} script */
function draw(script) {
  drawn = script;
  const stitches = stitchesOf(script);
  done = [0];
  stitches.forEach((count) => done.push(done[done.length - 1] + count));
  const border = heelFrom(script);
  const way = script.sections[0].key === "toe" ? UP : DOWN;
  const parts = [];
  for (let piece = 0, round = 0; piece < PIECES; piece += 1) {
    while (round < border - 1 && done[round + 1] < ((piece + 0.5) * done[border]) / PIECES) round += 1;
    const yarns = Object.entries(yarnsIn(script, round, stitches[round])).sort(([, one], [, other]) => other - one);
    // What is a stranded round in two yarns has the second one along its middle.
    yarns.slice(0, 2).forEach(([key], index) => parts.push(stretch(way, index ? "second" : "grown", piece, script, key)));
  }
  parts.push(cover(way, "bare"));
  if (border < script.total) {
    const heel = stretch(HEEL, "grown-heel", 0, script, script.main ?? "A", PIECES);
    parts.push(line(HEEL, "seam"), heel, cover(HEEL, "bare-heel"));
  }
  byId("grown").replaceChildren(...parts);
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

/** @param {string} way @param {string} id */
function cover(way, id) {
  const made = line(way, id);
  made.id = id;
  return made;
}

/** @param {string} d @param {string} kind */
function line(d, kind) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", "path");
  made.setAttribute("d", d);
  made.setAttribute("class", kind);
  made.setAttribute("pathLength", String(PIECES));
  return made;
}

/** Cover only what is not knitted. @param {string} id @param {number} share */
function hide(id, share) {
  byId(id).setAttribute("stroke-dasharray", `0 ${share} 200`);
}
