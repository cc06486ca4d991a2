/** The quiet line on the knit page for a check that was made without network: kept, and then worked out. */

import { sawCheck, unseenCheck } from "./kept-check.js";

/** @typedef {import("./db.js").KeptEntry} KeptEntry */
/** @typedef {import("./db.js").PairRecord} PairRecord */

/** Undefined until the browser was asked. @type {KeptEntry | undefined | null} */
let check;

/**
 * Show what became of the check; where it leads is worked out for the place at hand.
 * @param {PairRecord} record
 */
export async function showCheck({ link, round }) {
  if (check === undefined || check?.sent === 0) check = (await unseenCheck(link)) ?? null;
  const line = document.getElementById("unseen-check");
  if (!check || check.sent === 2) return line?.remove();
  const shown = line ?? newLine();
  if (check.sent === 0) {
    shown.textContent = "Gauge check kept. What it means comes with the network.";
    return;
  }
  const { sock } = check;
  const url = `/pair/${link}/check/result?sock=${sock}&round=${round[sock]}`;
  const known = shown.querySelector("a");
  if (known) known.href = url;
  else shown.replaceChildren(lead(link, url));
}

function newLine() {
  const line = document.createElement("p");
  line.id = "unseen-check";
  line.setAttribute("role", "status");
  document.getElementById("pace")?.after(line);
  return line;
}

/**
 * @param {string} link
 * @param {string} url
 */
function lead(link, url) {
  const made = document.createElement("a");
  made.className = "button";
  made.textContent = "What your gauge check means";
  made.href = url;
  made.addEventListener("click", async (event) => {
    event.preventDefault();
    await sawCheck(link);
    location.assign(made.href);
  });
  return made;
}
