/** Words and charts of a page as this phone's knitter works them, and where there is room, the question which way that is. */

import { mirrored, mirrors } from "../lib/mirrored.js";
import { applySettings, keepSettings, settings } from "../lib/settings.js";

applySettings(settings());
if (mirrors()) {
  for (const part of document.querySelectorAll("[data-worked]")) turned(part);
  for (const link of /** @type {NodeListOf<HTMLAnchorElement>} */ (document.querySelectorAll("[data-worked-file]"))) {
    link.search = String(new URLSearchParams([...new URLSearchParams(link.search), ["hand", "left"]]));
  }
  for (const told of document.querySelectorAll("[data-when-mirrored]")) told.toggleAttribute("hidden", false);
}

const tick = document.querySelector("[data-left-handed]");
const box = tick?.querySelector("input");
if (tick && box) {
  tick.toggleAttribute("hidden", false);
  box.checked = mirrors();
  box.addEventListener("change", () => {
    keepSettings({ ...settings(), knits: box.checked ? "on" : "" });
    location.reload();
  });
}

/** @param {Node} part */
function turned(part) {
  const words = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const text = /** @type {Text} */ (words.currentNode);
    const now = mirrored(text.data);
    if (now !== text.data) text.data = now;
  }
}
