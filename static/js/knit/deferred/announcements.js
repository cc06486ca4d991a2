/** What the leader has told the group, on the knit page until the knitter puts it away; also without a network. */

import { dayWords } from "../../lib/days.js";
import { element } from "../../lib/dom.js";
import { answerTo } from "../../lib/idb.js";
import { transact } from "../../pair/db.js";
import { post } from "../../pair/sync.js";
import { takeAway } from "../view.js";

/** `day`: on which it was said, like "2026-12-06". @typedef {{number: number, day: string, words: string}} Announcement */

/** Longer ones are folded, so that the round stays in sight. */
const SHORT = 90;

/** The number of the newest that was put away here, once the browser was asked. @type {number | undefined} */
let seen;
/** Whether the server has been told of it, or was tried to be told. */
let passedOn = false;

/**
 * Show the oldest that was not put away yet.
 * @param {Announcement[]} told what the server had not heard to be put away, the oldest first
 * @param {string} link the pair's
 */
export async function showAnnouncement(told, link) {
  seen ??= (await transact("readonly", ({ meta }) => answerTo(meta.get(["seen", link])))) ?? 0;
  const newest = /** @type {number} */ (seen);
  if (!passedOn && told.some(({ number }) => number <= newest)) passOn(link, newest);
  const next = told.find(({ number }) => number > newest);
  const shown = document.getElementById("announcement");
  if (shown?.dataset.number === String(next?.number)) return;
  takeAway(shown);
  if (next) document.getElementById("pace")?.after(foldOf(next, () => putAway(told, link, next.number)));
}

/**
 * @param {Announcement} announcement
 * @param {() => void} put what the button does
 */
function foldOf({ number, day, words }, put) {
  const button = element("button", "Seen");
  button.type = "button";
  button.className = "button";
  button.addEventListener("click", put);
  const title = element("summary", `From the leader, ${dayWords(new Date(`${day}T00:00`))}`);
  const fold = element("details", title, element("p", words), button);
  fold.id = "announcement";
  fold.className = "leader";
  fold.dataset.number = String(number);
  fold.open = words.length <= SHORT;
  return fold;
}

/**
 * @param {Announcement[]} told
 * @param {string} link
 * @param {number} number
 */
async function putAway(told, link, number) {
  await transact("readwrite", async ({ meta }) => void meta.put(number, ["seen", link]));
  seen = number;
  passOn(link, number);
  await showAnnouncement(told, link);
}

/** Without a network there is another opening. @param {string} link @param {number} number */
function passOn(link, number) {
  passedOn = true;
  post(`/pair/${link}/seen`, { number }).catch(() => undefined);
}
