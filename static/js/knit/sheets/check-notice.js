/** The quiet line on the knit page for a check that was made without network: kept, and then calculated. */

import { byId, element } from "../../lib/dom.js";
import { linkButton } from "../../lib/sheet.js";
import { takeAway, tell } from "../view.js";
import { runtimeHere } from "../../phone/runtime.js";
import { sawCheck, unseenCheck } from "../../pair/kept-check.js";

/** @typedef {import("../../pair/db.js").KeptEntry} KeptEntry */
/** @typedef {import("../../pair/db.js").PairRecord} PairRecord */

const KEPT = "Gauge check kept. What it means comes with the network.";

/** Undefined until the browser was asked. @type {KeptEntry | undefined | null} */
let check;

/**
 * Show what became of the check; where it leads is calculated for the round at hand.
 * @param {PairRecord} record
 */
export async function showCheck({ link, round }) {
  if (check === undefined || check?.sent === 0) check = (await unseenCheck(link)) ?? null;
  const line = document.getElementById("unseen-check");
  if (!check || check.sent === 2) return takeAway(line);
  const shown = line ?? newLine();
  if (check.sent === 0 && !(await calculates())) {
    if (!shown.textContent) tell(KEPT);
    shown.textContent = KEPT;
    return;
  }
  const { sock } = check;
  const url = `/pair/${link}/check/result?sock=${sock}&round=${round[sock]}`;
  const known = shown.querySelector("a");
  if (known) known.href = url;
  else {
    shown.replaceChildren(lead(link, url));
    tell(`${shown.textContent}: it is calculated now.`);
  }
}

/** Whether this phone does, without the server. */
async function calculates() {
  return Boolean(await runtimeHere().catch(() => null));
}

function newLine() {
  const line = element("p");
  line.id = "unseen-check";
  byId("round").append(line);
  return line;
}

/**
 * @param {string} link
 * @param {string} url
 */
function lead(link, url) {
  const made = linkButton("What your gauge check means", url);
  made.addEventListener("click", async (event) => {
    event.preventDefault();
    // Without network it is seen, and accepting waits.
    if (check?.sent) await sawCheck(link);
    location.assign(made.href);
  });
  return made;
}
