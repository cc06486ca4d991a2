/** Before sock two is cast on: that sock one was changed, and where to choose what that means for this one. */

import { element } from "../../lib/dom.js";
import { leadTo } from "../../lib/sheet.js";
import { takeAway, tell } from "../view.js";

/** @typedef {import("../../pair/db.js").PairRecord} PairRecord */

const WHY = "Sock one was changed while it was knitted. This one can be its twin, or better, or as first planned.";

/** @type {HTMLElement | null} */
let shown = null;

/**
 * Show the choice while sock two waits for its cast-on; take it away otherwise.
 * @param {PairRecord} record
 * @param {boolean} changed whether sock one was changed while it was knitted
 */
export function showSecondSock({ link, sock, round }, changed) {
  const wanted = changed && sock === 2 && !round[2];
  if (wanted === Boolean(shown)) return;
  takeAway(shown);
  shown = wanted ? panel(link) : null;
  if (wanted) tell(`Sock two. ${WHY}`);
  if (shown) document.querySelector(".round")?.before(shown);
}

/** @param {string} link */
function panel(link) {
  const title = element("h2", "Sock two");
  title.id = "second-sock-title";
  const choice = leadTo("Choose how to knit it", `/pair/${link}/second`);
  const made = element("section", title, element("p", WHY), element("p", choice));
  made.className = "notice";
  made.setAttribute("aria-labelledby", title.id);
  return made;
}
