/** What the leader has to say on the knit page: a note for the section, the pace to the next stage, and a change. */

import { dayWords } from "../../lib/days.js";
import { byId, element } from "../../lib/dom.js";
import { takeAway } from "../view.js";

/** @typedef {import("../../pair/logbook.js").Sock} Sock */

/** `round`: rounds of that sock done when the stage is, `other`: those of the other sock. `by`: a day in the time zone,
 * like "2026-12-06".
 * @typedef {{name: string, sock: Sock, round: number, other?: number, by: string}} Stage */

/** What a pair's data has from a design; a pair of one's own has none.
 * @typedef {{notes?: Record<string, string>, photos?: Record<string, string>, time_zone?: string, stages?: Stage[], design_changed?: boolean,
 *   told?: import("./announcements.js").Announcement[]}} Led */

const DAY = 24 * 60 * 60 * 1000;
/** Longer notes are folded, so that the round stays in sight. */
const SHORT = 90;

/**
 * The day that it is in a time zone, like "2026-12-06"; where the browser does not know the zone, the day here.
 * @param {Date} now
 * @param {string} [zone]
 */
function dayIn(now, zone) {
  const parts = /** @type {const} */ ({ year: "numeric", month: "2-digit", day: "2-digit" });
  try {
    return new Intl.DateTimeFormat("en-CA", { ...parts, timeZone: zone }).format(now);
  } catch {
    return new Intl.DateTimeFormat("en-CA", parts).format(now);
  }
}

/**
 * Rounds left to a stage, and how many of them are on a sock.
 * @param {Stage} stage
 * @param {Record<Sock, number>} done rounds of each sock
 * @returns {Record<Sock, number>}
 */
function leftOf({ sock, round, other = 0 }, done) {
  const left = { 1: 0, 2: 0 };
  left[sock] = Math.max(0, round - done[sock]);
  const second = /** @type {Sock} */ (3 - sock);
  if (left[sock]) left[second] = Math.max(0, other - done[second]);
  return left;
}

/**
 * The next stage that a sock has to grow for, in words, as of a moment; empty when none is ahead.
 * @param {Led} led
 * @param {Sock} sock
 * @param {Record<Sock, number>} done rounds of each sock
 * @param {Date} now
 */
export function paceWords({ stages = [], time_zone }, sock, done, now) {
  const next = stages.find((stage) => leftOf(stage, done)[sock]);
  if (!next) return "";
  const each = leftOf(next, done);
  const left = each[1] + each[2];
  const days = Math.round((Date.parse(next.by) - Date.parse(dayIn(now, time_zone))) / DAY) + 1;
  const both = each[1] && each[2] ? " on both socks" : "";
  const rounds = `${next.name} by ${dayWords(new Date(`${next.by}T00:00`))}: ${left} round${left === 1 ? "" : "s"} left${both}`;
  if (days < 1) return `${rounds}, and the day is over`;
  return days > 1 ? `${rounds}, ${Math.ceil(left / days)} a day` : `${rounds}, due today`;
}

/**
 * A link to what a changed design would make of what lies ahead, until it is taken or left.
 * @param {boolean} offered
 * @param {string} link the pair's
 */
function offerChange(offered, link) {
  takeAway(document.getElementById("design-changed"));
  if (!offered) return;
  const there = element("a", "The design was changed: see what would be different.");
  there.href = `/pair/${link}/design`;
  const line = element("p", there);
  line.id = "design-changed";
  byId("round").append(line);
}

/** What the fold was filled with, and for which place. */
let shown = "";

/**
 * Without a network there is none.
 * @param {HTMLElement} fold
 * @param {string} address empty for no photo
 */
function showPhoto(fold, address) {
  const before = fold.querySelector("img");
  if (before?.getAttribute("src") === (address || undefined)) return;
  before?.remove();
  if (!address) return;
  const image = element("img");
  image.alt = "The leader's photo for this part";
  image.loading = "lazy";
  image.addEventListener("error", () => image.remove());
  image.src = address;
  fold.append(image);
}

/**
 * A long note is open at the first round of its part, and then folded; the knitter may do otherwise.
 * @param {Led} led
 * @param {string} section its key; empty when the sock is finished
 * @param {Sock} sock
 * @param {Record<Sock, number>} done rounds of each sock
 * @param {string} link the pair's
 * @param {boolean} begins whether the section does
 */
export function showLeader(led, section, sock, done, link, begins) {
  offerChange(!!led.design_changed, link);
  const note = led.notes?.[section] ?? "";
  const photo = led.photos?.[section] ?? "";
  const now = JSON.stringify([sock, section, begins, note, photo]);
  if (shown !== now) {
    shown = now;
    const fold = /** @type {HTMLDetailsElement} */ (byId("leader"));
    byId("leader-note").textContent = note;
    showPhoto(fold, photo && `/pair/${link}/photo/${photo}`);
    fold.open = begins || (note.length <= SHORT && !photo);
    fold.hidden = !note && !photo;
  }
  const pace = paceWords(led, sock, done, new Date());
  if (byId("pace").textContent !== pace) byId("pace").textContent = pace;
}
