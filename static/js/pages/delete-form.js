/** The page that asks before a pair or a design is deleted: first on the server, then here, then back to the first page. */

import { erase } from "./erase.js";

/** Milliseconds after which a silent server counts as none. */
const PATIENCE = 20_000;

const form = /** @type {HTMLFormElement} */ (document.querySelector("form[data-what]"));
const { what = "", link = "" } = form.dataset;

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  tell("");
  const gone = await deleted();
  if (!gone) return;
  await erase(what, link);
  location.replace(gone);
});

/** @returns {Promise<string>} where to go once the server no longer has it; else empty, and the page says why */
async function deleted() {
  try {
    const answer = await fetch(form.action, {
      method: "POST",
      body: new FormData(form),
      signal: AbortSignal.timeout(PATIENCE),
    });
    if (answer.ok) return answer.url;
    if (answer.status === 404) return "/";
    tell("It was not deleted. Load this page again, and try once more.");
  } catch {
    tell("Deleting needs the server, and it cannot be reached just now. Nothing was deleted.");
  }
  return "";
}

/** @param {string} words */
function tell(words) {
  const status = document.getElementById("delete-said");
  if (status) status.textContent = words;
}
