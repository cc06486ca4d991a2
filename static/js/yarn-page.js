/** The page about the yarn that is left: weighs, and is drawn again when the server has what was kept here. */

import { sendAll } from "./behind.js";
import { loadPair } from "./db.js";
import { weighingSheet } from "./weighing-sheet.js";

const [, , link] = location.pathname.split("/");
const news = /** @type {HTMLElement} */ (document.getElementById("yarn-news"));
const weigh = /** @type {HTMLElement} */ (document.getElementById("weigh"));

document.addEventListener("sent", () => location.reload());
begin();

async function begin() {
  // Private windows of some browsers have no database: the page then only tells.
  const found = await loadPair(link).catch(() => null);
  if (!found?.record) return;
  weigh.hidden = false;
  weigh.addEventListener("click", () => weighingSheet(link, send));
  if (found.unsent.length) tellWaiting();
}

function tellWaiting() {
  news.textContent = "What was counted and weighed since is kept on this device, and goes into this when it is sent.";
}

async function send() {
  tellWaiting();
  await sendAll();
}
