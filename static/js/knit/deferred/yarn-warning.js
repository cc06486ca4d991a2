/** Yarn that will not reach, shown on the knit page: when it is opened, and at the start of each part. */

import { byId, element } from "../../lib/dom.js";
import { takeAway } from "../view.js";

/** Where the page was opened. @type {number | null} */
let opened = null;

/**
 * @param {string} link
 * @param {string[]} warnings
 * @param {import("../../pair/instructions.js").Script} script
 * @param {number} roundsDone
 */
export function warnOfYarn(link, warnings, script, roundsDone) {
  opened ??= roundsDone;
  takeAway(document.getElementById("yarn-warning"));
  const now = roundsDone === opened || script.sections.some(({ first }) => first === roundsDone);
  if (!warnings.length || !now || roundsDone === script.total) return;
  const lead = element("a", warnings.join(" "));
  lead.href = `/pair/${link}/yarn`;
  const warning = element("p", lead);
  warning.id = "yarn-warning";
  byId("round").append(warning);
}
