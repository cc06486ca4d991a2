/** The logbook page: asks for the times of this device's own zone, shows the photos kept here, and prints. */

import { photosOf } from "./remarks.js";

const here = new URL(location.href);
const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
if (timeZone && timeZone !== "UTC" && !here.searchParams.has("zone")) {
  here.searchParams.set("zone", timeZone);
  location.replace(here);
}

const link = here.pathname.split("/")[2];
photosOf(link).then((photos) => photos.forEach(showPhoto), () => undefined);

/** @param {Blob} photo @param {string} id of its note */
function showPhoto(photo, id) {
  const told = document.querySelector(`[data-entry="${CSS.escape(id)}"]`);
  if (!told) return;
  const picture = document.createElement("img");
  picture.src = URL.createObjectURL(photo);
  picture.alt = `Photo of: ${told.textContent}`;
  told.append(picture);
}

const button = document.getElementById("print");
if (button) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
