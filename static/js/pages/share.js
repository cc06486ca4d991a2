/** Buttons that pass a link on or print the page: shown where the browser can do what they say. */

for (const place of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-link]"))) {
  const { link = "", title = "" } = place.dataset;
  // On plain http the browser has no clipboard to offer; the link can be selected all the same.
  offer(place.querySelector("[data-copy]"), Boolean(navigator.clipboard), () =>
    copy(link, place.querySelector("[data-said]")),
  );
  offer(place.querySelector("[data-share]"), "share" in navigator, () => share(link, title));
}
offer(document.querySelector("[data-print]"), true, () => print());

/**
 * @param {Element | null} button
 * @param {boolean} possible
 * @param {() => void} act
 */
function offer(button, possible, act) {
  if (!(button instanceof HTMLElement) || !possible) return;
  button.hidden = false;
  button.addEventListener("click", act);
}

/**
 * @param {string} link
 * @param {Element | null} said
 */
async function copy(link, said) {
  let words = "Copied.";
  try {
    await navigator.clipboard.writeText(link);
  } catch {
    words = "The browser does not allow it: select the link and copy it.";
  }
  if (said) said.textContent = words;
}

/**
 * By the phone's own sheet for sharing (W3C, Web Share API). Closing the sheet is no mistake.
 * @param {string} url
 * @param {string} title
 */
function share(url, title) {
  navigator.share({ url, title }).catch(() => undefined);
}
