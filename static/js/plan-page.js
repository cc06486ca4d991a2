/** The plan page: keeps the pair in this browser's list, copies the link, prints. */

import { rememberPair } from "./db.js";

const [, , link] = location.pathname.split("/");
const title = document.getElementById("pair-title")?.textContent ?? "";
const [one, two] = document.querySelectorAll("progress");

// Private windows of some browsers have no database; the page is complete without the list.
rememberPair({ link, title, totals: [one.max, two.max] }).catch(() => undefined);

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
