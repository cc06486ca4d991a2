/** Two taps sooner after each other than the setting allows were counted once: say so, and offer to put the second back. */

import { byId } from "../../lib/dom.js";
import { say } from "../view.js";

/** Rounds during which it is offered. */
const OFFERED = 3;

/** The place when it happened. @type {number | null} */
let since = null;

/** @param {() => void} count */
export function listenToSecondTap(count) {
  byId("second-tap").addEventListener("click", () => {
    since = null;
    byId("double-tap").hidden = true;
    byId("done").focus();
    count();
  });
}

/** @param {number} roundsDone */
export function offerSecondTap(roundsDone) {
  since = roundsDone;
  byId("double-tap").hidden = false;
  say("Two quick taps were counted once.");
}

/** The offer is withdrawn some rounds on, and when the count went back. @param {number} roundsDone */
export function keepOfferingSecondTap(roundsDone) {
  if (since !== null && (roundsDone < since || roundsDone > since + OFFERED)) since = null;
  byId("double-tap").hidden = since === null;
}
