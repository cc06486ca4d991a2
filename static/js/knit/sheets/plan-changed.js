/** What an accepted change of the plan has changed, for the next rounds, and the way to take it back. */

import { byId, element } from "../../lib/dom.js";
import { actionButton } from "../../lib/sheet.js";
import { takeAway, tell } from "../view.js";

/** Rounds for which it is offered. */
const OFFERED = 10;

/** Rounds done where it is offered. */
let place = 0;

/**
 * @param {import("../../pair/instructions.js").Script} script
 * @param {number} done rounds
 */
export function showPlanChanged({ changed }, done) {
  place = done;
  const shown = document.getElementById("plan-changed");
  if (!changed || done < changed.at || done > changed.at + OFFERED) return takeAway(shown);
  const rip = Math.max(0, done - changed.free);
  const words = rip ? `Take it back, ripping ${rip} round${rip > 1 ? "s" : ""}` : "Take it back";
  const line = element("p", `${changed.words}. `, actionButton(words, takeBack));
  line.id = "plan-changed";
  if (shown?.isEqualNode(line)) return;
  if (!shown) tell(`${changed.words}.`);
  takeAway(shown);
  byId("round").append(line);
}

/** By the form of the menu, which knows the sock; the server hears for which place it was offered. */
function takeBack() {
  const form = /** @type {HTMLFormElement} */ (document.getElementById("take-back"));
  const field = element("input");
  Object.assign(field, { type: "hidden", name: "round", value: String(place) });
  form.append(field);
  form.requestSubmit();
}
