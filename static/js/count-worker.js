/** Writes counts down beside the page, whose fingers, frames and rounds would hold up each answer of the disk. */

import { countTap } from "./db.js";

/**
 * A tap, and the page's time of it.
 * @typedef {{link: string, sock: import("./logbook.js").Sock, kind: import("./logbook.js").Kind, target?: number,
 *   at: string}} Tap
 */
/** What became of it, or why it could not be kept. @typedef {import("./db.js").Counted | {loss: string}} Outcome */

addEventListener("message", async (/** @type {MessageEvent<Tap>} */ { data: { link, sock, kind, target, at } }) => {
  postMessage(await countTap(link, sock, kind, target, at).catch(({ message }) => ({ loss: message })));
});
postMessage("ready");
