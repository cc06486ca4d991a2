/** "How far": stitches done and left, the pace of the hands, and when the pair might be finished. */

import { byId } from "../../lib/dom.js";
import { dayWords } from "../../lib/days.js";
import { REST } from "./rest.js";
import { closePanel, listOf, openPanel } from "../panel.js";
import { leftOf, leftToday } from "../../pair/pace.js";
import { askKnittingSoFar } from "../../pair/knitting-so-far.js";
import { scriptOf, stitchesOf } from "../../pair/instructions.js";

/** @typedef {import("../deferred.js").Page} Page */
/** @typedef {import("../../pair/logbook.js").Sock} Sock */

/** @param {Page} page */
export async function showProgressPanel(page) {
  closePanel();
  const past = await askKnittingSoFar(page).catch(() => null);
  const [one, two] = [stitchesDone(page, 1), stitchesDone(page, 2)];
  const mine = page.sock() === 1 ? one : two;
  const pair = { done: one.done + two.done, all: one.all + two.all };
  const sock = past && leftOf(mine.all - mine.done, past, Date.now());
  const both = past && leftOf(pair.all - pair.done, past, Date.now());
  openPanel(
    "How far",
    byId("how-far"),
    listOf([
      ["This sock", ofAll(mine)],
      ["The pair", ofAll(pair)],
      [
        "Pace",
        past?.perStitch
          ? `about ${Math.round(60 / past.perStitch)} stitches a minute`
          : "known after a few rounds, from the times of your counts",
      ],
      ["Left today", past && todayWords(leftToday(stitchesOf(page.script()).slice(page.roundsDone()), past))],
      ["Left of this sock", sock && `about ${hours(sock.seconds)}`],
      ["Left of the pair", both && `about ${hours(both.seconds)}`],
      [
        "May be finished",
        both?.day && past?.perDay
          ? `about ${dayWords(new Date(both.day))}, at ${hours(past.perDay)} a day as lately`
          : null,
      ],
      ["Your hands", REST],
    ]),
  );
}

/** @param {ReturnType<typeof leftToday>} left */
function todayWords(left) {
  if (!left) return null;
  if (!left.rounds) return "nothing: you have knitted as much as on an ordinary day";
  return `${left.rounds} ${left.rounds === 1 ? "round" : "rounds"}, about ${hours(left.seconds)}, for a day like those of late`;
}

/** @param {Page} page @param {Sock} sock */
function stitchesDone(page, sock) {
  const stitches = stitchesOf(scriptOf(page.data(), sock));
  const sum = (/** @type {number[]} */ counts) => counts.reduce((total, count) => total + count, 0);
  return { done: sum(stitches.slice(0, page.rounds()[sock])), all: sum(stitches) };
}

/** @param {{done: number, all: number}} stitches */
function ofAll({ done, all }) {
  return `${number(done)} of ${number(all)} stitches, ${Math.floor((100 * done) / all)} %`;
}

/** @param {number} count */
export function number(count) {
  return count.toLocaleString("en-GB");
}

/** To five minutes, from an hour on to a quarter. @param {number} seconds */
export function hours(seconds) {
  const minutes = Math.max(1, Math.round(seconds / 60));
  if (minutes < 60) return `${minutes < 10 ? minutes : Math.round(minutes / 5) * 5} min`;
  const quarters = Math.round(minutes / 15);
  const part = ["", " 15 min", " 30 min", " 45 min"][quarters % 4];
  return `${quarters >> 2} h${part}`;
}
