/** Style sheets that the knit page does without for its first round. */

import { element } from "../lib/dom.js";

const STYLES = ["knit/deferred", "knit/small-sock", "knit/sheets", "knit/leader", "lib/chart"];

/** Resolves when they are there, or do not come. */
export function addStyles() {
  return Promise.all(STYLES.map(addStyle));
}

/** @param {string} name */
function addStyle(name) {
  const style = element("link");
  style.rel = "stylesheet";
  style.href = new URL(`../../css/${name}.css`, import.meta.url).href;
  return new Promise((resolve) => {
    style.onload = style.onerror = resolve;
    document.head.append(style);
  });
}
