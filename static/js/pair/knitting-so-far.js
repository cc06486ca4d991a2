/** What the logbook says of the knitting so far, calculated by a worker. */

import { scriptOf, stitchesOf } from "./instructions.js";

/** @typedef {import("./pace.js").KnittingSoFar} KnittingSoFar */

/**
 * @param {import("../knit/deferred.js").Page} page
 * @returns {Promise<KnittingSoFar>}
 */
export function askKnittingSoFar({ link, data }) {
  const stitches = { 1: stitchesOf(scriptOf(data(), 1)), 2: stitchesOf(scriptOf(data(), 2)) };
  const worker = new Worker(new URL("./knitting-so-far-worker.js", import.meta.url), { type: "module" });
  const waiting = new AbortController();
  return new Promise((resolve, reject) => {
    worker.onmessage = (/** @type {MessageEvent<KnittingSoFar>} */ event) => resolve(event.data);
    worker.onerror = reject;
    addEventListener("pagehide", reject, { signal: waiting.signal }); // its transaction must not outlast the page
    worker.postMessage({ link, stitches, now: Date.now() });
  }).finally(() => {
    waiting.abort();
    worker.terminate();
  });
}
