/** Hands need rest: half an hour of rounds without a break, and the page says so while the next one is knitted. */

import { BREAK } from "../../pair/pace.js";
import { byId, element } from "../../lib/dom.js";

/** Milliseconds: the half hour that the plan speaks of, too. */
const LONG = 30 * 60_000;

/** What to do about hands that hurt, said wherever hands are spoken of. */
const CARE = "If they hurt or go numb, stop and ask a doctor or physiotherapist.";

export const REST = `Rest them now and then. ${CARE}`;

/** When the first and the last round since a break were counted, in milliseconds since 1970. */
let [first, last] = [0, 0];

/** A round was counted. @param {number} now milliseconds since 1970 */
export function restAfter(now) {
  document.getElementById("hands")?.remove();
  if (now - last > BREAK * 1000) first = now;
  last = now;
  if (now - first < LONG) return;
  first = now;
  const line = element("p", `Half an hour without a break: rest your hands. ${CARE}`);
  line.id = "hands";
  line.className = "pace";
  byId("round").append(line);
  byId("live").append(` ${line.textContent}`);
}
