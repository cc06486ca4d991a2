/** The answer to a remark that was written down: what was kept, what it means, and the way to take it back. */

import { withdrawRemark } from "../../pair/remarks.js";
import { element } from "../../lib/dom.js";
import { actionButton, openSheet } from "../../lib/sheet.js";

/** What is said of something that was kept, and without network where it is until there is one. @param {string} words */
export function keptWords(words) {
  const sends = !("copy" in document.body.dataset);
  return navigator.onLine || !sends ? words : `${words} Kept here; sent when there is a network.`;
}

/**
 * @param {string} title
 * @param {string} words
 * @param {{link: string, id: string}} entry
 * @param {() => void} undone after it was taken back
 * @param {HTMLElement} [means] where to see what it means
 */
export function keptSheet(title, words, { link, id }, undone, means) {
  const said = element("p", keptWords(words));
  said.setAttribute("role", "status");
  const back = actionButton("Take it back", async () => {
    try {
      await withdrawRemark(link, id);
    } catch (error) {
      said.textContent = `It was not taken back: ${/** @type {Error} */ (error).message}.`;
      return;
    }
    undone();
    said.textContent = "Taken back. Nothing was kept.";
    back.remove();
    means?.remove();
  });
  openSheet(title, [said, element("p", ...(means ? [means, " "] : []), back)]);
}
