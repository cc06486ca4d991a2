/** The knitter's own reminders: written down, listed and deleted in a sheet, and shown at their rounds. Beside them,
 * where a gauge check pays. */

import { byId, element } from "../../lib/dom.js";
import { settings } from "../../lib/settings.js";
import { actionButton, openSheet } from "../../lib/sheet.js";
import { forgetNotes, keepRemark, knownNotes, withdrawRemark } from "../../pair/remarks.js";
import { comes, examples, lifeline, nextOf, parseWhen, readReminder, reminderText } from "../../pair/reminders.js";
import { tell } from "../view.js";
import { keptSheet } from "./kept-sheet.js";

/** @typedef {import("../deferred.js").Page} Page */
/** @typedef {import("../../pair/reminders.js").When} When */
/** @typedef {import("../../pair/instructions.js").Script} Script */

/** `when` is null where the sock has no such place any more.
 * @typedef {{id: string, sock: number, words: string, what: string, when: When | null}} Reminder */

/** Letters of a time, and of what it is for. */
const MOST = { when: 60, what: 200 };

const CHECK_PAYS = "A gauge check pays here.";

/** The sock and place that reminders were looked up for last. */
let lookedUp = "";

/**
 * Show those of the place that is on the page, after whether a check pays there; each is said as the place is reached.
 * @param {Page} page
 */
export async function showReminders(page) {
  const [script, roundsDone, sock] = [page.script(), page.roundsDone(), page.sock()];
  const due = (await remindersOf(page)).filter(({ when }) => when && comes(when, script, roundsDone));
  if (roundsDone !== page.roundsDone() || sock !== page.sock()) return;
  const words = due.map(({ what }) => what);
  const pays = page.data().check_at?.[sock - 1].includes(roundsDone) ? [CHECK_PAYS] : [];
  byId("reminders").replaceChildren(
    ...pays.map((what) => element("p", what)),
    ...words.map((what) => element("p", element("b", "Reminder: "), what)),
  );
  const place = [sock, roundsDone, ...pays, ...words].join();
  if (place === lookedUp) return;
  lookedUp = place;
  pays.forEach(tell);
  if (!words.length) return;
  tell(`Reminder: ${words.join(". ")}`);
  if (settings().aloud) speechSynthesis.speak(new SpeechSynthesisUtterance(words.join(". ")));
}

/** @param {Page} page */
export async function reminderSheet(page) {
  const when = field("when", "When?");
  const what = field("what", "What?");
  const { unit } = page.data();
  const listed = element("ul", ...(await remindersOf(page)).map((reminder) => item(page, reminder)));
  listed.className = "reminders";
  openSheet(
    "Reminders",
    [
      listed,
      ...lifelineFor(page.script(), when, what),
      when,
      element("p", `For example ${examples(unit)}. Both socks have it.`),
      what,
    ],
    async (form) => {
      const given = /** @type {Record<string, string>} */ (Object.fromEntries(new FormData(form)));
      if (given.when.includes(":")) throw new Error("A time has no colon in it");
      const time = parseWhen(given.when, page.script(), page.roundsDone());
      const { id } = await keepRemark(page.link, "note", { text: reminderText(given.when, given.what) });
      changed(page);
      const next = nextOf(time, page.script(), page.roundsDone());
      const words = next ? `It comes next in: ${next}.` : "This sock is past it.";
      keptSheet("Reminder kept", words, { link: page.link, id }, () => changed(page));
    },
    `Write it like ${examples(unit)}.`,
  );
}

/**
 * On a sock in a stitch pattern, what fills a lifeline into the sheet.
 * @param {Script} script
 * @param {HTMLElement} when
 * @param {HTMLElement} what
 */
function lifelineFor({ pattern }, when, what) {
  if (!pattern) return [];
  const button = actionButton("Write one for a lifeline", () => {
    const filled = lifeline(pattern);
    inputOf(when).value = filled.when;
    inputOf(what).value = filled.what;
    inputOf(when).focus();
  });
  return [
    element("p", "A lifeline is a thread to rip back to without losing a stitch. It stays in until the next."),
    element("p", button),
  ];
}

/** @param {HTMLElement} label */
function inputOf(label) {
  return /** @type {HTMLInputElement} */ (label.querySelector("input"));
}

/**
 * @param {Page} page
 * @returns {Promise<Reminder[]>}
 */
async function remindersOf(page) {
  const script = page.script();
  return (await knownNotes(page.record())).flatMap(({ id, sock, round, data }) => {
    const read = readReminder(data.text);
    if (!read) return [];
    return [{ id, sock, words: read.when, what: read.what, when: timeOf(read.when, script, round) }];
  });
}

/**
 * @param {string} words
 * @param {Script} script
 * @param {number} round where it was written down
 */
function timeOf(words, script, round) {
  try {
    return parseWhen(words, script, round);
  } catch {
    return null; // the plan has changed since, and has no such place
  }
}

/**
 * @param {Page} page
 * @param {Reminder} reminder
 */
function item(page, { id, words, what }) {
  const button = actionButton("Delete", async () => {
    await withdrawRemark(page.link, id);
    line.remove();
    tell(`Deleted: ${what}`);
    changed(page);
  });
  button.setAttribute("aria-label", `Delete: ${what}`);
  const line = element("li", element("span", element("b", words), ` ${what}`), button);
  return line;
}

/** @param {Page} page */
function changed(page) {
  forgetNotes();
  page.remarked();
}

/**
 * @param {keyof typeof MOST} name
 * @param {string} question
 */
function field(name, question) {
  const input = element("input");
  Object.assign(input, { name, className: "input", required: true, maxLength: MOST[name], autocomplete: "off" });
  return element("label", `${question} `, input);
}
