/** The designs that were made or opened in this browser, by the leader's link: the store keeps only its hash. */

const KEY = "tapeline designs";

/** @typedef {{link: string, title: string}} KeptDesign */

/** @returns {KeptDesign[]} the last one opened first */
export function designsHere() {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? "[]");
  } catch {
    return []; // damaged, or a browser that lets nothing be kept
  }
}

/** @param {KeptDesign} design */
export function rememberDesign(design) {
  keep([design, ...allBut(design.link)]);
}

/** @param {string} link */
export function forgetDesign(link) {
  keep(allBut(link));
}

/** @param {string} link */
function allBut(link) {
  return designsHere().filter((design) => design.link !== link);
}

/** @param {KeptDesign[]} designs */
function keep(designs) {
  try {
    localStorage.setItem(KEY, JSON.stringify(designs));
  } catch {
    // A private window keeps nothing; the leader still has the link.
  }
}
