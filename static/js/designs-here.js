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
  const others = designsHere().filter(({ link }) => link !== design.link);
  try {
    localStorage.setItem(KEY, JSON.stringify([design, ...others]));
  } catch {
    // A private window keeps nothing; the leader still has the link.
  }
}
