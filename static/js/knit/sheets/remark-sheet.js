/** The sheets in which notes and try-ons are written, and the last note for the round at hand. */

import { dayWords } from "../../lib/days.js";
import { lengthSheet } from "./length-sheet.js";
import { forgetNotes, keepRemark, knownNotes, photoOf, shrunk, withdrawRemark } from "../../pair/remarks.js";
import { readReminder } from "../../pair/reminders.js";
import { byId, element } from "../../lib/dom.js";
import { actionButton, choices, linkButton, openSheet } from "../../lib/sheet.js";
import { takeAway } from "../view.js";
import { keptSheet } from "./kept-sheet.js";

/** @typedef {import("../../pair/db.js").PairRecord} PairRecord */
/** @typedef {import("../../pair/logbook.js").Remark} Remark */
/** @typedef {import("../../pair/remarks.js").Note} Note */

/** The parts of a sock and the answers, as the server takes them. */
const WHERE = ["cuff", "leg", "instep", "heel", "foot", "toe"];
const FEELS = ["tight", "right", "loose"];

/** The note on the page, by its id. */
let shown = "";
/** The note that was written down last while this page was open, by its id. */
let newest = "";
/** Tells the page that the notes have changed, and what is said of it. @type {(words: string) => void} */
let changed = () => {};

/**
 * Let the buttons beside the count open their sheets.
 * @param {string} link
 * @param {(words: string) => void} kept after a remark was written down, with what is said of it
 */
export function offerRemarks(link, kept) {
  changed = (words) => {
    forgetNotes();
    kept(words);
  };
  const sheets = {
    "note-it": () => noteSheet(link, changed),
    "try-on": () => tryOnSheet(link, changed),
    measure: () => lengthSheet(link, () => kept("Length kept.")),
  };
  for (const [id, open] of Object.entries(sheets)) {
    const button = /** @type {HTMLButtonElement} */ (byId(id));
    button.addEventListener("click", open);
    button.disabled = false; // before, a touch would have been in vain
  }
}

/**
 * Show the last note for this round, or take the one away that is shown.
 * @param {PairRecord} record
 */
export async function showNote(record) {
  const { link, sock, round } = record;
  const note = (await knownNotes(record))
    .filter((one) => one.sock === sock && one.round === round[sock] && !readReminder(one.data.text))
    .at(-1);
  if (note?.id === (shown || undefined)) return;
  shown = note?.id ?? "";
  takeAway(document.getElementById("remark"));
  if (note) byId("round").append(await noteElement(link, note));
}

/**
 * @param {string} link
 * @param {Note} note
 */
async function noteElement(link, { id, at, data }) {
  const made = element("p", `Note, ${dayWords(new Date(at))}: ${data.text}`);
  made.id = "remark";
  const photo = await photoOf(link, id);
  if (photo)
    made.append(
      " ",
      actionButton("See the photo", () => photoSheet(photo, data.text)),
    );
  if (id === newest)
    made.append(
      " ",
      actionButton("Take it back", () => takeBack(link, id)),
    );
  return made;
}

/**
 * @param {string} link
 * @param {string} id the note's
 */
async function takeBack(link, id) {
  await withdrawRemark(link, id);
  changed("Taken back. Nothing was kept.");
}

/**
 * @param {Blob} photo
 * @param {string} text
 */
function photoSheet(photo, text) {
  const picture = element("img");
  picture.src = URL.createObjectURL(photo);
  picture.alt = text;
  const sheet = openSheet("Photo", [picture]);
  sheet.addEventListener("close", () => URL.revokeObjectURL(picture.src));
}

/**
 * @param {string} link
 * @param {(words: string) => void} saved
 */
export function noteSheet(link, saved) {
  const text = element("textarea");
  text.className = "input";
  text.rows = 4;
  text.maxLength = Number(document.body.dataset.mostLetters);
  text.required = true;
  const photo = element("input");
  photo.type = "file";
  photo.accept = "image/*";
  openSheet(
    "Note for this round",
    [element("label", "Note ", text), element("label", "Photo, kept on this device only ", photo)],
    async () => {
      const [picture] = photo.files ?? [];
      const { id } = await keepRemark(link, "note", { text: text.value }, picture ? await shrunk(picture) : null);
      newest = id;
      saved("Note kept.");
    },
    "Try it without the photo.",
  );
}

/**
 * @param {string} link
 * @param {(words: string) => void} saved
 */
function tryOnSheet(link, saved) {
  const groups = [choices("where", "Where?", WHERE), choices("feels", "How does it feel?", FEELS)];
  openSheet("Try-on", groups, async (form) => {
    const { id, sock, round } = await keepRemark(link, "try-on", Object.fromEntries(new FormData(form)));
    saved("Try-on kept.");
    const means = linkButton("What that means for the rest", `/pair/${link}/fit?sock=${sock}&round=${round}`);
    keptSheet(
      "Try-on kept",
      "What is knitted stays; what is ahead may change.",
      { link, id },
      () => saved("Taken back."),
      means,
    );
  });
}
