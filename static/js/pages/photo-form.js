/** The leader's photos: made small before they are sent, and without what the camera wrote into them. */

import { shrunk } from "../pair/remarks.js";

const field = /** @type {HTMLInputElement} */ (document.getElementById("photo"));
const send = /** @type {HTMLButtonElement} */ (field.form?.querySelector("button"));
const said = /** @type {HTMLElement} */ (document.getElementById("photo-said"));

field.addEventListener("change", async () => {
  const [chosen] = field.files ?? [];
  said.textContent = "";
  if (!chosen) return;
  send.disabled = true;
  try {
    const small = new DataTransfer();
    small.items.add(new File([await shrunk(chosen)], "photo.jpg", { type: "image/jpeg" }));
    // Another may have been chosen in the meantime.
    if (field.files?.[0] !== chosen) return;
    field.files = small.files;
    said.textContent = `Ready to be kept: ${Math.ceil(small.files[0].size / 1024)} kB.`;
  } catch {
    field.value = "";
    said.textContent = "This cannot be read as a picture. Choose another.";
  }
  send.disabled = false;
});
