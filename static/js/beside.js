/**
 * What stands beside the counting on the knit page. Fetched once the first round is painted, so that the round
 * need not wait for it.
 */

import { showApart } from "./apart.js";

/** @typedef {import("./db.js").PairRecord} PairRecord */
/** @typedef {import("./logbook.js").Kind} Kind */

const styles = document.createElement("link");
styles.rel = "stylesheet";
styles.href = new URL("../css/beside.css", import.meta.url).href;
document.head.append(styles);

/**
 * Show what belongs to the place that is on the page now.
 * @param {PairRecord} record
 * @param {(kind: Kind, target: number) => void} write counts a round, or moves to another
 */
export function standBeside(record, write) {
  showApart(record, write);
}
