/**
 * Asks the worker in which the phone calculates. Begun once it stays for the life of the page: the first answer takes
 * seconds, the next ones hardly any time. Where the page is not looked at for long it gives its memory back.
 */

/** Milliseconds that a page may be hidden before the worker ends. */
const LONG_HIDDEN = 5 * 60_000;

/** @type {Worker | null} */
let worker = null;
let number = 0;
let timer = 0;
/** Who waits for an answer, by the number of the question.
 * @type {Map<number, {resolve: (answer: any) => void, reject: (why: Error) => void}>} */
const waiting = new Map();
/** Resolved when nothing is left to keep for the next start. */
let ready = promised();

/** Begin before anything is asked, where a question is likely: a worker takes nothing from what the thumb touches. */
export function begin() {
  if (worker) return worker;
  const begun = new Worker(new URL("./planner.js", import.meta.url), { type: "module" });
  begun.onmessage = ({ data }) => (data.ready ? ready.resolve() : settle(data));
  begun.onerror = () => end("the calculation could not be begun");
  return (worker = begun);
}

/**
 * @param {string} name of the answer (companion/on_phone/answer.py)
 * @param {object} question its fields
 * @returns {Promise<any>} fails where the phone cannot calculate it
 */
export function ask(name, question) {
  return new Promise((resolve, reject) => {
    waiting.set(++number, { resolve, reject });
    begin().postMessage({ number, name, question });
  });
}

/** Have everything made and kept here that makes the next start quick; then end. */
export async function prepare() {
  begin();
  await ready.promise;
  if (!waiting.size) end("");
}

/** @returns {{promise: Promise<void>, resolve: () => void}} */
function promised() {
  let resolve = () => {};
  const promise = new Promise((/** @type {(nothing: void) => void} */ done) => (resolve = done));
  return { promise, resolve };
}

/** @param {import("./planner.js").Answered} answered */
function settle({ number: of, answer, fault }) {
  const asked = waiting.get(of);
  waiting.delete(of);
  if (fault === undefined) asked?.resolve(answer);
  else asked?.reject(new Error(fault));
}

/** @param {string} why for those who still wait */
function end(why) {
  worker?.terminate();
  worker = null;
  ready = promised();
  waiting.forEach(({ reject }) => reject(new Error(why)));
  waiting.clear();
}

document.addEventListener("visibilitychange", () => {
  clearTimeout(timer);
  if (document.hidden) timer = setTimeout(() => waiting.size || end(""), LONG_HIDDEN);
});
