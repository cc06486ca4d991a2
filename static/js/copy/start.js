/** Where the script of a copy begins: the knit page in one file, with modules of this folder where it asks a server. */

import "../knit/apply-settings.js";
import "../knit/knit.js";

// What is hidden may still be followed by a key; there is no page of the server here.
document.addEventListener("click", (event) => {
  if (event.target instanceof Element && event.target.closest('a[href^="/"]')) event.preventDefault();
});
