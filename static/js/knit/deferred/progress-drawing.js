/** The small sock beside the count: it fills as the sock grows. */

import { byId } from "../../lib/dom.js";
import { smallSock } from "../../pair/small-sock.js";

/** @typedef {import("../../pair/instructions.js").Script} Script */

/** The script that is drawn. @type {Script | null} */
let drawn = null;
/** Shows how much of it is knitted. @type {(roundsDone: number) => void} */
let show = () => {};

/**
 * @param {Script} script
 * @param {number} roundsDone
 */
export function showProgressDrawing(script, roundsDone) {
  if (script !== drawn) {
    const sock = smallSock(script);
    byId("progress-drawing").replaceChildren(...sock.parts);
    [drawn, show] = [script, sock.show];
  }
  show(roundsDone);
}
