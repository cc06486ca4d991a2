/** The page about the yarn that is left: weighs, and is drawn again when the server has what was kept here. */

import { byId } from "../lib/dom.js";
import { sendAll } from "../pair/background-sync.js";
import { loadPair, savePairData } from "../pair/db.js";
import { fetchPair } from "../pair/sync.js";
import { weighingSheet } from "../knit/sheets/weighing-sheet.js";

const [, , link] = location.pathname.split("/");

document.addEventListener("sent", drawAgain);
// The page is drawn anew more than once.
document.addEventListener("click", ({ target }) => target instanceof Element && target.id === "weigh" && weigh());
if (await begin()) drawAgain();

/** Fill in what only this browser knows; answers whether the server knew more already when the page was drawn. */
async function begin() {
  // Private windows of some browsers have no database: the page then only shows.
  const found = await loadPair(link).catch(() => null);
  if (!found?.record) return false;
  if (found.unsent.length) tellWaiting();
  return found.record.after > Number(byId("yarn-page").dataset.cursor);
}

function tellWaiting() {
  if (!madeHere())
    byId("yarn-news").textContent =
      "What was counted and weighed since is kept on this device, and goes into this when it is sent.";
}

/** A pair that was never opened here is fetched for it. */
async function weigh() {
  try {
    if (!(await loadPair(link)).record) await savePairData(link, await fetchPair(link));
    await weighingSheet(link, send);
  } catch {
    byId("yarn-news").textContent =
      "No weighing can be kept here just now. Open the pair with “Knit on”, and weigh from its menu.";
  }
}

async function send() {
  if (madeHere()) await (await import("../phone/page-here.js")).madeHere(link, "yarn");
  else tellWaiting();
  await sendAll();
}

/** Whether this phone has made the page: it then knows all that was written down here. */
function madeHere() {
  return document.getElementById("made-here") !== null;
}

/** A page that was kept here may be older than what the server knows by now. */
async function drawAgain() {
  const response = await fetch(location.href, { cache: "no-cache" }).catch(() => null);
  const drawn =
    response?.ok && new DOMParser().parseFromString(await response.text(), "text/html").querySelector("main");
  if (!drawn) return;
  document.querySelector("main")?.replaceWith(drawn);
  await begin();
}
