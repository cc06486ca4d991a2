/**
 * The worker in which the phone calculates; its own answer alone is allowed to compile WebAssembly. It begins Python at
 * once, and then answers one question after the other. It says when it is `ready` and has nothing left to keep.
 */

import { startPython } from "./python.js";

/** `name`: which answer of companion/on_phone/answer.py. @typedef {{number: number, name: string, question: object}} Asked */
/** @typedef {{number: number, answer?: any, fault?: string}} Answered */

const started = startPython();
started
  .then(({ kept }) => kept)
  .catch(() => undefined) // a question hears why it did not begin
  .finally(() => postMessage({ ready: true }));

addEventListener("message", async (/** @type {MessageEvent<Asked>} */ { data: { number, name, question } }) => {
  try {
    const { answer } = await started;
    postMessage({ number, answer: JSON.parse(answer(name, JSON.stringify(question))) });
  } catch (error) {
    postMessage({ number, fault: inWords(error) });
  }
});

/** Of a fault in Python its last line, which is for the knitter. @param {unknown} error */
function inWords(error) {
  return String(error)
    .trimEnd()
    .split("\n")
    .at(-1)
    ?.replace(/^\S+(Error|Exception): /, "");
}
