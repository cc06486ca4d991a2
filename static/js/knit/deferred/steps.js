/**
 * Rounds that are worked by hand stitch by stitch, as grafting is, or repeat by repeat where the knitter wants that: a
 * little count of their own, kept on this device, before the round itself is counted.
 */

import { byId, element } from "../../lib/dom.js";
import { answerTo } from "../../lib/idb.js";
import { mirrored } from "../../lib/mirrored.js";
import { transact } from "../../pair/db.js";
import { unfolded } from "../round-words.js";

/** @typedef {import("../../pair/logbook.js").Sock} Sock */
/** @typedef {import("../../pair/instructions.js").Part} Part */

/**
 * Go on or back by one step, unless that leads out of the round; resolves once it is on disk.
 * @param {string} link
 * @param {Sock} sock
 * @param {number} roundsDone before this round
 * @param {Part[]} parts
 * @param {1 | -1} by
 * @returns {Promise<boolean>} whether it stayed in the round
 */
export function step(link, sock, roundsDone, parts, by) {
  return transact("readwrite", async ({ meta }) => {
    const next = doneOf(await answerTo(meta.get(keyOf(link, sock))), roundsDone) + by;
    const inside = next >= 0 && next < totalOf(parts);
    if (inside) meta.put({ place: roundsDone, done: next }, keyOf(link, sock));
    return inside;
  });
}

/**
 * Start a round from its first step, after a jump to it.
 * @param {string} link
 * @param {Sock} sock
 */
export function forgetSteps(link, sock) {
  return transact("readwrite", async ({ meta }) => void meta.delete(keyOf(link, sock)));
}

/**
 * Show the step that comes now; answers with its words for speech, said once for all its stitches.
 * @param {string} link
 * @param {Sock} sock
 * @param {number} roundsDone
 * @param {Part[]} parts
 */
export async function showStep(link, sock, roundsDone, parts) {
  const kept = await transact("readonly", ({ meta }) => answerTo(meta.get(keyOf(link, sock))));
  let number = doneOf(kept, roundsDone);
  const last = number === totalOf(parts) - 1;
  const index = parts.findIndex(({ times }) => number < times || void (number -= times));
  const { times, each = "stitch" } = parts[index];
  const text = mirrored(parts[index].text);
  const within = times > 1 ? `${each} ${number + 1} of ${times}` : "";
  const place = parts.length > 1 ? `Step ${index + 1} of ${parts.length}` : "";
  byId("step-count").textContent = sentence([place, within].filter(Boolean).join(", "));
  byId("step-words").textContent = text;
  byId("step").hidden = false;
  byId("done").replaceChildren(element("b", "Done: "), last ? "the round" : times > 1 ? `next ${each}` : "next step");
  return number ? sentence(within) : `${byId("step-count").textContent}. ${unfolded(text)}`;
}

/** @param {string} words */
function sentence(words) {
  return `${words[0].toUpperCase()}${words.slice(1)}`;
}

export function hideSteps() {
  byId("step").hidden = true;
}

/** @param {Part[]} parts */
function totalOf(parts) {
  return parts.reduce((sum, { times }) => sum + times, 0);
}

/**
 * Steps done in this round; those of another one do not count.
 * @param {{place: number, done: number} | undefined} kept
 * @param {number} roundsDone
 */
function doneOf(kept, roundsDone) {
  return kept?.place === roundsDone ? kept.done : 0;
}

/**
 * @param {string} link
 * @param {Sock} sock
 */
function keyOf(link, sock) {
  return ["steps", link, sock];
}
