/** Two taps within a fifth of a second were counted once: say so, and offer to put the second back. */

import { byId, say } from "./view.js";

/** Rounds during which it is offered. */
const OFFERED = 3;

/** The place when it happened. @type {number | null} */
let since = null;

/** @param {() => void} count */
export function listenToSecond(count) {
  byId("second").addEventListener("click", () => {
    since = null;
    byId("twice").hidden = true;
    byId("done").focus();
    count();
  });
}

/** @param {number} place */
export function countedOnce(place) {
  since = place;
  byId("twice").hidden = false;
  say("Two quick taps were counted once.");
}

/** The offer is withdrawn some rounds on, and when the count went back. @param {number} place */
export function keepOffering(place) {
  if (since !== null && (place < since || place > since + OFFERED)) since = null;
  byId("twice").hidden = since === null;
}
