/** The sheets in which notes and try-ons are written, from the menu, and the last note for the round at hand. */

import { keepRemark, notesOf, photoOf, shrunk } from "./remarks.js";

/** @typedef {import("./db.js").PairRecord} PairRecord */
/** @typedef {import("./logbook.js").Remark} Remark */
/** @typedef {import("./remarks.js").Note} Note */

/** As the server takes them. */
const MOST_LETTERS = 1000;
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
  ]);
  const file = element("p", "", [leadTo("Logbook", `/pair/${link}/logbook`), leadTo("Export the pair", `/pair/${link}/export`)]);
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
  const day = new Date(at).toLocaleDateString([], { day: "numeric", month: "short" });
  const made = element("p", `Note, ${day}: ${data.text}`);
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
  const sheet = open("Photo", [picture]);
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
  text.maxLength = MOST_LETTERS;
  text.required = true;
  const photo = document.createElement("input");
  photo.type = "file";
  photo.accept = "image/*";
  open("Note for this round", [
    element("label", "Note ", [text]),
    element("label", "Photo, kept on this device only ", [photo]),
  ], async () => {
    const [picture] = photo.files ?? [];
    await keepRemark(link, "note", { text: text.value }, picture ? await shrunk(picture) : null);
    saved();
  });
}

/**
 * @param {string} link
 * @param {() => void} saved
 */
function tryOnSheet(link, saved) {
  const groups = [choices("where", "Where?", WHERE), choices("feels", "How does it feel?", FEELS)];
  open("Try-on", groups, async (form) => {
    await keepRemark(link, "try-on", Object.fromEntries(new FormData(form)));
    saved();
  });
}

/**
 * @param {string} name
 * @param {string} question
 * @param {string[]} answers
 */
function choices(name, question, answers) {
  const labels = answers.map((answer) => {
    const input = document.createElement("input");
    input.type = "radio";
    input.name = name;
    input.value = answer;
    input.required = true;
    return element("label", "", [input, ` ${answer}`]);
  });
  return element("fieldset", "", [element("legend", question), ...labels]);
}

/**
 * Open a sheet over the page. Without `save` there is nothing to fill in.
 * @param {string} title
 * @param {Node[]} parts
 * @param {(form: HTMLFormElement) => Promise<void>} [save]
 */
function open(title, parts, save) {
  const sheet = document.createElement("dialog");
  sheet.className = "remark-sheet";
  const heading = element("h2", title);
  heading.id = "sheet-title";
  sheet.setAttribute("aria-labelledby", heading.id);
  const form = document.createElement("form");
  const trouble = element("p", "");
  trouble.setAttribute("role", "alert");
  const buttons = [opener(save ? "Cancel" : "Close", () => sheet.close())];
  if (save) buttons.unshift(saver());
  form.append(heading, ...parts, trouble, element("p", "", buttons));
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    try {
      await save?.(form);
      sheet.close();
    } catch (error) {
      trouble.textContent = `This could not be kept: ${/** @type {Error} */ (error).message}. Try it without the photo.`;
    }
  });
  sheet.append(form);
  // On the page below, arrows and page keys count rounds.
  sheet.addEventListener("keydown", (event) => event.stopPropagation());
  sheet.addEventListener("close", () => sheet.remove());
  document.body.append(sheet);
  document.getElementById("menu")?.removeAttribute("open");
  sheet.showModal();
  return sheet;
}

function saver() {
  const button = opener("Keep it", () => undefined);
  button.type = "submit";
  button.classList.add("primary");
  return button;
}

/**
 * @param {string} words
 * @param {() => void} pressed
 */
function opener(words, pressed) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button";
  button.textContent = words;
  button.addEventListener("click", pressed);
  return button;
}

/**
 * @param {string} words
 * @param {string} url
 */
function leadTo(words, url) {
  const made = document.createElement("a");
  made.className = "button";
  made.href = url;
  made.textContent = words;
  return made;
}

/**
 * @param {string} name
 * @param {string} text
 * @param {(Node | string)[]} [parts]
 */
function element(name, text, parts = []) {
  const made = document.createElement(name);
  made.append(text, ...parts);
  return made;
}
