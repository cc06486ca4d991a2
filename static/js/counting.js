/** Counts that a worker writes down, one at a time and in order. */

/** @typedef {import("./count-worker.js").Outcome} Outcome */

/**
 * Begin to write beside the page.
 * @returns {Promise<typeof import("./db.js").countTap>} what does as `countTap` does; not before the worker is there
 */
export function startCounting() {
  const worker = new Worker(new URL("./count-worker.js", import.meta.url), { type: "module" });
  const answered = () =>
    new Promise((resolve, reject) => {
      worker.onmessage = resolve;
      worker.onerror = () => reject(new Error("what writes the counts down has stopped; open the page again"));
    });
  return answered().then(() => async (link, sock, kind, target) => {
    const answer = answered();
    worker.postMessage({ link, sock, kind, target, at: new Date().toISOString() });
    const { data } = /** @type {MessageEvent<Outcome>} */ (await answer);
    if ("loss" in data) throw new Error(data.loss);
    return data;
  });
}
