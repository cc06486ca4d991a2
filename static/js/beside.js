/**
 * What stands beside the counting on the knit page. Fetched once the first round is painted, so that the round
 * need not wait for it.
 */

import { showApart } from "./apart.js";
import { showCheck } from "./check-notice.js";
import { sayWhatHttpLacks } from "./plain-http.js";
import { offerRemarks, showNote } from "./remark-sheet.js";
import { showSecond } from "./second.js";

/** @typedef {import("./db.js").PairRecord} PairRecord */
/** @typedef {import("./logbook.js").Kind} Kind */
/** @typedef {import("./script.js").PairData} PairData */

let offered = false;

/**
 * Show what belongs to the place that is on the page now.
 * @param {PairRecord} record
 * @param {PairData} data
 * @param {(kind: Kind, target: number) => void} write counts a round, or moves to another
 * @param {() => void} kept after something else was written into the logbook
 */
export function standBeside(record, data, write, kept) {
  if (!offered) {
    addStyles();
    offerRemarks(record.link, kept);
    sayWhatHttpLacks();
    offered = true;
  }
  showApart(record, write);
  showNote(record);
  showCheck(record);
  showSecond(record, Boolean(data.sock_one_changed));
}

function addStyles() {
  const styles = document.createElement("link");
  styles.rel = "stylesheet";
  styles.href = new URL("../css/beside.css", import.meta.url).href;
  document.head.append(styles);
}
