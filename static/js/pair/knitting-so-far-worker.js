/** Reads the whole logbook beside the page, because a long one would hold up the next tap. */

import { answerTo } from "../lib/idb.js";
import { entriesOf, transact } from "./db.js";
import { knittingSoFar } from "./pace.js";

/** @typedef {{link: string, stitches: Record<import("./logbook.js").Sock, number[]>, now: number}} Question */

addEventListener("message", async (/** @type {MessageEvent<Question>} */ { data: { link, stitches, now } }) => {
  const entries = await transact("readonly", ({ log }) => answerTo(log.getAll(entriesOf(link))));
  postMessage(knittingSoFar(entries, stitches, now));
});
