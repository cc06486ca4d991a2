/**
 * Rounds that are worked by hand stitch by stitch, as grafting is: a little count of their own, kept on this
 * device, before the round itself is counted.
 */

import { got, transact } from "./db.js";
import { byId } from "./view.js";

/** @typedef {import("./logbook.js").Sock} Sock */
/** @typedef {{text: string, times: number}} Part */

/**
 * Go on or back by one step, unless that leads out of the round; resolves once it is on disk.
 * @param {string} link
 * @param {Sock} sock
 * @param {number} place the round's index
 * @param {Part[]} parts
 * @param {1 | -1} by
 * @returns {Promise<boolean>} whether it stayed in the round
 */
export function step(link, sock, place, parts, by) {
  return transact("readwrite", async ({ meta }) => {
    const next = doneOf(await got(meta.get(keyOf(link, sock))), place) + by;
    const inside = next >= 0 && next < totalOf(parts);
    if (inside) meta.put({ place, done: next }, keyOf(link, sock));
    return inside;
  });
}

/**
 * Begin a round anew that was gone to.
 * @param {string} link
 * @param {Sock} sock
 */
export function forgetSteps(link, sock) {
  return transact("readwrite", async ({ meta }) => void meta.delete(keyOf(link, sock)));
}

/**
 * Show the step that comes now; answers with its words for speech.
 * @param {string} link
 * @param {Sock} sock
 * @param {number} place
 * @param {Part[]} parts
 */
export async function showStep(link, sock, place, parts) {
  const kept = await transact("readonly", ({ meta }) => got(meta.get(keyOf(link, sock))));
  let number = doneOf(kept, place);
  const last = number === totalOf(parts) - 1;
  const index = parts.findIndex(({ times }) => number < times || void (number -= times));
  const { text, times } = parts[index];
  const stitch = times > 1 ? `, stitch ${number + 1} of ${times}` : "";
  byId("step-count").textContent = `Step ${index + 1} of ${parts.length}${stitch}`;
  byId("step-words").textContent = text;
  byId("step").hidden = false;
  byId("words").dataset.length = "beside";
  byId("done").replaceChildren(bold("Done: "), last ? "the round" : times > 1 ? "next stitch" : "next step");
  return `${byId("step-count").textContent}. ${text}`;
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
 * @param {number} place
 */
function doneOf(kept, place) {
  return kept?.place === place ? kept.done : 0;
}

/**
 * @param {string} link
 * @param {Sock} sock
 */
function keyOf(link, sock) {
  return ["steps", link, sock];
}

/** @param {string} words */
function bold(words) {
  const made = document.createElement("b");
  made.textContent = words;
  return made;
}
