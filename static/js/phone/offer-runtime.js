/** The offer in the menu of the knit page to have this phone calculate without network: gauge checks, and new pairs. */

import { element } from "../lib/dom.js";
import { actionButton } from "../lib/sheet.js";
import { prepare } from "./planning.js";
import { forgetRuntime, keepRuntime, offered, runtimeHere } from "./runtime.js";

const HERE = "This phone calculates checks and plans pairs without network, too. ";
const NO_NETWORK = " It could not be loaded. Try it again with a better network.";
const NO_ROOM = " There is no room for it on this phone. Make some, then try it again.";

/** Fill the place with the offer, or with what became of it; nothing where there is none. @param {HTMLElement} place */
export async function offerRuntime(place) {
  if (place.hasChildNodes() || "copy" in document.body.dataset) return;
  if (await runtimeHere()) return showHere(place);
  const runtime = await offered();
  if (!runtime || place.hasChildNodes()) return;
  const said = element("span");
  said.setAttribute("role", "status");
  const size = Math.ceil(runtime.bytes / 1e6);
  const button = actionButton(`Check and plan without network: ${size} MB`, async () => {
    button.disabled = true;
    said.textContent = " Loading…";
    try {
      await keepRuntime(runtime);
      showHere(place);
      prepare();
    } catch (error) {
      const full = /** @type {Error} */ (error).name === "QuotaExceededError";
      if (full) await forgetRuntime(); // what came of it would take the room that counts need
      button.disabled = false;
      said.textContent = full ? NO_ROOM : NO_NETWORK;
    }
  });
  place.replaceChildren(button, said);
}

/** @param {HTMLElement} place */
function showHere(place) {
  const words = element("span", HERE);
  words.setAttribute("role", "status");
  const remove = actionButton("Remove it", async () => {
    await forgetRuntime();
    place.replaceChildren();
    offerRuntime(place);
  });
  place.replaceChildren(words, remove);
}
