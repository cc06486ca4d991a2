/** The pairs of this browser on the first page: the one on the needles, the others, and those that are finished. */

import { byId } from "../lib/dom.js";
import { loadData } from "../pair/db.js";
import { forgetPair, keepBack, listPairs, restorePair } from "../pair/pairs-here.js";
import { cardOf, isFinished, lastKnitted, nameOf } from "./pair-card.js";

/** @typedef {import("../pair/pairs-here.js").ListedPair} Pair */

const pattern = /** @type {HTMLTemplateElement} */ (byId("pair-card"));
const undo = byId("forgotten");
/** The card of each pair by its link, and what is on it. @type {Map<string, {item: Element, says: string}>} */
const cardsShown = new Map();

await takeAwayDeleted();
show();
// Coming back from the knitting, a browser may show this page as it was left.
window.addEventListener("pageshow", ({ persisted }) => persisted && show());

// Counts that waited here have been sent, or a pair that was never knitted here is known now.
for (const news of ["sent", "fetched"]) document.addEventListener(news, show);

/** Pressed before the script of its page was there, a button has deleted on the server alone. */
async function takeAwayDeleted() {
  const [, what, link] = document.cookie.match(/(?:^|; )deleted=(\w+)\.([\w-]+)/) ?? [];
  if (!what) return;
  const erasing = await import("./erase.js").catch(() => null);
  if (!erasing) return; // no network just now: the cookie stays for the next time
  await erasing.erase(what, link);
  document.cookie = "deleted=; path=/; max-age=0";
}

async function show() {
  /** @type {Pair[]} */
  const pairs = await listPairs().catch(() => []);
  const ongoing = pairs.filter((pair) => !isFinished(pair)).sort(latest);
  const finished = pairs.filter(isFinished);
  const cards = await Promise.all([...ongoing, ...finished].map((pair) => card(pair, pairs)));
  fill(byId("pairs"), cards.slice(0, ongoing.length));
  fill(byId("finished-pairs"), cards.slice(ongoing.length));
  byId("pairs").hidden = !ongoing.length;
  byId("on-needles").textContent = ongoing.length ? "On your needles" : "Nothing on your needles";
  byId("finished").hidden = !finished.length;
  byId("finished-count").textContent = String(finished.length);
  byId("no-pairs").hidden = pairs.length > 0;
  keepBack(pairs.length > 0);
  document.documentElement.classList.toggle("back", pairs.length > 0);
  document.documentElement.classList.add("listed");
}

/** The one knitted last comes first; then those that are not begun, the one opened last first. @param {Pair} one @param {Pair} other */
function latest(one, other) {
  const [a, b] = [one, other].map((pair) => lastKnitted(pair) || ` ${pair.opened}`);
  return a < b ? 1 : -1;
}

/** A list that has these cards already is left alone: a finger may be on one. @param {Element} list @param {Element[]} cards */
function fill(list, cards) {
  if (list.children.length === cards.length && cards.every((one, place) => one === list.children[place])) return;
  list.replaceChildren(...cards);
}

/** The card that is there, unless something else is to be on it; a menu that is open stays open. @param {Pair} pair @param {Pair[]} pairs */
async function card(pair, pairs) {
  const data = await loadData(pair.link).catch(() => undefined);
  const namesake = pairs.filter((other) => nameOf(other) === nameOf(pair)).length > 1;
  const item = cardOf(pattern, pair, data, { namesake, forget: () => forget(pair) });
  const says = item.outerHTML;
  const before = cardsShown.get(pair.link);
  if (before?.says === says) return before.item;
  item.querySelector("details")?.toggleAttribute("open", before?.item.querySelector("details")?.open ?? false);
  cardsShown.set(pair.link, { item, says });
  return item;
}

/** @param {Pair} pair */
async function forget(pair) {
  const forgotten = await forgetPair(pair.link);
  await show();
  undo.hidden = false;
  /** @type {HTMLElement} */ (undo.querySelector("span")).textContent = pair.made
    ? `${nameOf(pair)} is gone: no server has it yet.`
    : `${nameOf(pair)} is no longer listed here. Its link still opens it.`;
  const back = /** @type {HTMLButtonElement} */ (undo.querySelector("button"));
  back.focus();
  back.onclick = async () => {
    await restorePair(forgotten);
    undo.hidden = true;
    await show();
    /** @type {HTMLElement | null} */ (document.querySelector(".pairs a"))?.focus();
  };
}
