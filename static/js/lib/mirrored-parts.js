/** Parts of a page as this phone's knitter works them: the sides in their words, and the toe of a sock in a drawing. */

import { mirrored, mirrors } from "./mirrored.js";

/**
 * Turns all of a part that is marked as worked, if this phone's knitter works from left to right.
 * @param {ParentNode} page
 */
export function mirrorParts(page) {
  if (!mirrors()) return;
  for (const part of page.querySelectorAll("[data-worked]")) {
    turned(part);
    part.removeAttribute("data-worked"); // turned once more it would be as it was
  }
}

/** @param {Element} part */
function turned(part) {
  const words = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const text = /** @type {Text} */ (words.currentNode);
    const now = mirrored(text.data);
    if (now !== text.data) text.data = now;
  }
  for (const choice of /** @type {NodeListOf<HTMLElement>} */ (part.querySelectorAll("[data-says]"))) {
    choice.dataset.says = mirrored(choice.dataset.says ?? "");
  }
  for (const picture of part.querySelectorAll("use")) {
    const word = (picture.getAttribute("href") ?? "").replaceAll("-", " ");
    if (mirrored(word) !== word) picture.setAttribute("href", mirrored(word).replaceAll(" ", "-"));
  }
  for (const other of /** @type {NodeListOf<HTMLTemplateElement>} */ (part.querySelectorAll("[data-mirrored]"))) {
    other.previousElementSibling?.remove();
    other.replaceWith(other.content);
  }
}
