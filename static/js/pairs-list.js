/** The pairs of this browser on the first page. */

import { momentWords } from "./days.js";
import { placesApart } from "./logbook.js";
import { forgetPair, listPairs, restorePair } from "./pairs-here.js";

/** @typedef {Awaited<ReturnType<typeof listPairs>>[number]} Pair */

const list = /** @type {HTMLElement} */ (document.getElementById("pairs"));
const none = /** @type {HTMLElement} */ (document.getElementById("no-pairs"));
const undo = /** @type {HTMLElement} */ (document.getElementById("forgotten"));
const pattern = /** @type {HTMLTemplateElement} */ (document.getElementById("pair-row"));

show();
// Coming back from the knitting, a browser may show this page as it was left.
window.addEventListener("pageshow", ({ persisted }) => persisted && show());

// Counts that waited here have been sent, or a pair that was never knitted here is known now.
for (const news of ["sent", "fetched"]) document.addEventListener(news, show);

async function show() {
  /** @type {Pair[]} */
  const pairs = await listPairs().catch(() => []);
  const names = pairs.map(nameOf);
  list.replaceChildren(...pairs.map((pair, index) => rowOf(pair, names.filter((name) => name === names[index]).length > 1)));
  list.hidden = pairs.length === 0;
  none.hidden = pairs.length > 0;
}

/** @param {Pair} pair */
function nameOf({ title }) {
  return title || "Socks";
}

/**
 * @param {Pair} pair
 * @param {boolean} namesake whether another pair here has the same name, as one that was imported may
 */
function rowOf(pair, namesake) {
  const name = nameOf(pair);
  const opened = namesake ? `, opened ${momentWords(new Date(pair.opened))}` : "";
  const row = /** @type {DocumentFragment} */ (pattern.content.cloneNode(true));
  const part = (/** @type {string} */ name) => /** @type {HTMLElement} */ (row.querySelector(name));
  /** @type {HTMLAnchorElement} */ (part("a")).href = `/pair/${pair.link}/knit`;
  /** @type {HTMLAnchorElement} */ (part(".export")).href = `/pair/${pair.link}/export`;
  part(".export").setAttribute("aria-label", `Export: ${name}${opened}`);
  part(".pair-title").textContent = name;
  part(".pair-place").textContent = `${placeOf(pair)}${opened}`;
  part(".pair-question").textContent = questionOf(pair);
  part("button").setAttribute("aria-label", `Forget here: ${name}${opened}`);
  part("button").addEventListener("click", () => forget(pair));
  return row;
}

/** @param {Pair} pair */
function placeOf(pair) {
  const socks = [progressOf("Sock 1", pair.round[1], pair.totals[0]), progressOf("sock 2", pair.round[2], pair.totals[1])];
  const waiting = pair.unsent ? `; ${pair.unsent} only on this device, not yet sent` : "";
  return socks.join("; ") + waiting;
}

/** What the knitter is asked on the knit page. @param {Pair} pair */
function questionOf({ ends }) {
  const open = /** @type {const} */ ([1, 2]).filter((sock) => placesApart(ends?.[sock] ?? []).length > 1);
  if (!open.length) return "";
  return `A question is open: sock ${open.join(" and ")} ${open.length > 1 ? "were" : "was"} counted on two devices apart.`;
}

/**
 * @param {string} sock
 * @param {number} round
 * @param {number} total 0 while unknown
 */
function progressOf(sock, round, total) {
  if (!round) return `${sock} not begun`;
  if (total && round >= total) return `${sock} finished`;
  return total ? `${sock}: ${round} of ${total} rounds` : `${sock}: ${round} rounds`;
}

/** @param {Pair} pair */
async function forget(pair) {
  const forgotten = await forgetPair(pair.link);
  await show();
  undo.hidden = false;
  /** @type {HTMLElement} */ (undo.querySelector("span")).textContent =
    `${nameOf(pair)} is no longer listed here. Its link still opens it.`;
  const back = /** @type {HTMLButtonElement} */ (undo.querySelector("button"));
  back.focus();
  back.onclick = async () => {
    await restorePair(forgotten);
    undo.hidden = true;
    await show();
    list.querySelector("a")?.focus();
  };
}
