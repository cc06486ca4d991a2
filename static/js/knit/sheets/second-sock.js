/** Before sock two is cast on: that sock one was changed, and where to choose what that means for this one. */

import { element } from "../../lib/dom.js";
import { openPanel, closePanel } from "../panel.js";
import { linkButton } from "../../lib/sheet.js";
import { tell } from "../view.js";

/** @typedef {import("../../pair/db.js").PairRecord} PairRecord */

const WHY = "Sock one was changed while it was knitted. This one can be its twin, or better, or as first planned.";

/** The choice, open or put away for now. @type {HTMLElement | null} */
let offered = null;

/**
 * Open the choice when sock two is taken up and waits for its cast-on; take it away otherwise.
 * @param {PairRecord} record
 * @param {boolean} changed whether sock one was changed while it was knitted
 */
export function showSecondSock({ link, sock, round }, changed) {
  const wanted = changed && sock === 2 && !round[2];
  if (wanted === Boolean(offered)) return;
  if (wanted) tell(`Sock two. ${WHY}`);
  else if (offered?.isConnected) closePanel();
  const choice = linkButton("Choose how to knit it", `/pair/${link}/second`);
  offered = wanted ? openPanel("Sock two", null, element("p", WHY), element("p", choice)) : null;
}
