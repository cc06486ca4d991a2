/** Words and charts of a page as this phone's knitter works them, and where there is room, the question which way that is. */

import { mirrors } from "../lib/mirrored.js";
import { applySettings, keepSettings, settings } from "../lib/settings.js";
import { mirrorParts } from "../lib/mirrored-parts.js";

applySettings(settings());
mirrorParts(document);
if (mirrors()) {
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
