/** The sheets in which notes, try-ons, lengths and weighings are written, from the menu, and the last note for the round at hand. */

import { dayWords } from "./days.js";
import { lengthSheet } from "./length-sheet.js";
import { keepRemark, notesOf, photoOf, shrunk } from "./remarks.js";
import { choices, element, leadTo, opener, openSheet } from "./sheet.js";
import { weighingSheet } from "./weighing-sheet.js";

/** @typedef {import("./db.js").PairRecord} PairRecord */
/** @typedef {import("./logbook.js").Remark} Remark */
/** @typedef {import("./remarks.js").Note} Note */

/** The parts of a sock and the answers, as the server takes them. */
const WHERE = ["cuff", "leg", "instep", "heel", "foot", "toe"];
const FEELS = ["tight", "right", "loose"];

/** The notes of the pair, read again when something new has come. @type {Promise<Note[]> | null} */
let notes = null;
let readFor = -1;
/** The note on the page, by its id. */
let shown = "";

/**
 * Put the entries into the menu.
 * @param {string} link
 * @param {() => void} kept after a remark was written down
 */
export function offerRemarks(link, kept) {
  const saved = () => {
    notes = null;
    kept();
  };
  const line = element("p", "", [
    opener("Write a note", () => noteSheet(link, saved)),
    opener("Note a try-on", () => tryOnSheet(link, saved)),
    opener("Measure a length", () => lengthSheet(link, kept)),
    opener("Weigh the yarn", () => weighingSheet(link, kept)),
  ]);
  const file = element("p", "", [
    leadTo("Yarn left", `/pair/${link}/yarn`),
    leadTo("Logbook", `/pair/${link}/logbook`),
    leadTo("Export the pair", `/pair/${link}/export`),
  ]);
  document.querySelector("#menu .sheet #sections")?.after(line, file);
}

/**
 * Show the last note for this round, or take the one away that is shown.
 * @param {PairRecord} record
 */
export async function showNote({ link, sock, round, after }) {
  if (after !== readFor) notes = null;
  readFor = after;
  notes ??= notesOf(link);
  const note = (await notes).filter((one) => one.sock === sock && one.round === round[sock]).at(-1);
  if (note?.id === (shown || undefined)) return;
  shown = note?.id ?? "";
  document.getElementById("remark")?.remove();
  if (note) document.getElementById("note")?.after(await noteElement(link, note));
}

/**
 * @param {string} link
 * @param {Note} note
 */
async function noteElement(link, { id, at, data }) {
  const made = element("p", `Note, ${dayWords(new Date(at))}: ${data.text}`);
  made.id = "remark";
  const photo = await photoOf(link, id);
  if (photo) made.append(" ", opener("See the photo", () => photoSheet(photo, data.text)));
  return made;
}

/**
 * @param {Blob} photo
 * @param {string} text
 */
function photoSheet(photo, text) {
  const picture = document.createElement("img");
  picture.src = URL.createObjectURL(photo);
  picture.alt = text;
  const sheet = openSheet("Photo", [picture]);
  sheet.addEventListener("close", () => URL.revokeObjectURL(picture.src));
}

/**
 * @param {string} link
 * @param {() => void} saved
 */
function noteSheet(link, saved) {
  const text = document.createElement("textarea");
  text.className = "input";
  text.rows = 4;
  text.maxLength = Number(document.body.dataset.mostLetters);
  text.required = true;
  const photo = document.createElement("input");
  photo.type = "file";
  photo.accept = "image/*";
  openSheet("Note for this round", [
    element("label", "Note ", [text]),
    element("label", "Photo, kept on this device only ", [photo]),
  ], async () => {
    const [picture] = photo.files ?? [];
    await keepRemark(link, "note", { text: text.value }, picture ? await shrunk(picture) : null);
    saved();
  }, "Try it without the photo.");
}

/**
 * @param {string} link
 * @param {() => void} saved
 */
function tryOnSheet(link, saved) {
  const groups = [choices("where", "Where?", WHERE), choices("feels", "How does it feel?", FEELS)];
  openSheet("Try-on", groups, async (form) => {
    const { sock, round } = await keepRemark(link, "try-on", Object.fromEntries(new FormData(form)));
    saved();
    const means = leadTo("What that means for the rest", `/pair/${link}/fit?sock=${sock}&round=${round}`);
    openSheet("Try-on kept", [element("p", "What is knitted stays; what is ahead may change."), element("p", "", [means])]);
  });
}
