/** The logbook page: asks for the times of this device's own zone, shows the photos kept here, exports and prints. */

import { element } from "../lib/dom.js";
import { photosOf } from "../pair/remarks.js";
import { exportHere } from "../pair/export-here.js";

const here = new URL(location.href);
const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
if (timeZone && timeZone !== "UTC" && !here.searchParams.has("zone")) {
  here.searchParams.set("zone", timeZone);
  location.replace(here);
}

const link = here.pathname.split("/")[2];
photosOf(link)
  .then((photos) => photos.forEach(showPhoto))
  .catch(() => undefined)
  .finally(() => document.querySelector("main")?.classList.add("complete"));

exportHere(/** @type {HTMLAnchorElement} */ (document.getElementById("export")), link);

/** @param {Blob} photo @param {string} id of its note */
function showPhoto(photo, id) {
  const row = document.querySelector(`[data-entry="${CSS.escape(id)}"]`);
  if (!row) return;
  const picture = element("img");
  picture.src = URL.createObjectURL(photo);
  picture.alt = `Photo of: ${row.textContent}`;
  row.append(picture);
}

const button = document.getElementById("print");
if (button) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
