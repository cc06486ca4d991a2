/** The plan page: keeps the pair in this browser's list, copies the link, prints. */

import { rememberPair } from "./pairs-here.js";

const [, , link] = location.pathname.split("/");
const title = document.getElementById("pair-title")?.textContent ?? "";
const [one, two] = document.querySelectorAll("progress");

// Private windows of some browsers have no database; the page is complete without the list.
rememberPair({ link, title, totals: [one.max, two.max] }).then(showPlaces, () => undefined);

/**
 * A page kept from an earlier time is behind what was counted here since.
 * @param {import("./db.js").PairRecord} record
 */
function showPlaces({ round, after }) {
  const known = Number(document.querySelector(".socks")?.getAttribute("data-cursor"));
  if (after < known) return;
  [one, two].forEach((bar, index) => {
    bar.value = Math.min(index ? round[2] : round[1], bar.max);
    const told = bar.previousElementSibling;
    if (told) told.textContent = `Sock ${index + 1}: ${bar.value} of ${bar.max} rounds`;
  });
}

const print = document.getElementById("print");
if (print) {
  print.hidden = false;
  print.addEventListener("click", () => window.print());
}

const copy = document.getElementById("copy");
// On plain http the browser has no clipboard to offer; the link can be selected all the same.
if (copy && navigator.clipboard) {
  copy.hidden = false;
  copy.addEventListener("click", async () => {
    const told = /** @type {HTMLElement} */ (document.getElementById("copied"));
    try {
      await navigator.clipboard.writeText(copy.dataset.link ?? "");
      told.textContent = "Copied.";
    } catch {
      told.textContent = "The browser does not allow it: select the link and copy it.";
    }
  });
}
