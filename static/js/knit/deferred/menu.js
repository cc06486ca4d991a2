/** The menu: whatever is wanted less often than once in some rounds, in groups. */

import { byId, element } from "../../lib/dom.js";
import { mirrored } from "../../lib/mirrored.js";
import { actionButton, linkButton } from "../../lib/sheet.js";
import { sectionAt } from "../../pair/instructions.js";
import { exportHere } from "../../pair/export-here.js";
import { settingsForm } from "./settings-form.js";

/** @typedef {import("../deferred.js").Page} Page */
/** @typedef {import("../../pair/instructions.js").Script} Script */

const menu = /** @type {HTMLDetailsElement} */ (byId("menu"));
const part = element("select");
const round = element("input");
const range = element("label");
const marks = element("div");
const meanings = element("dl");
const calculating = element("div");

/** What the menu was filled for. @type {Script | null} */
let filledFor = null;

/**
 * @param {Page} page
 * @param {Record<string, [string, () => void]>} openers what opens something over the page, by the id of its button
 */
export function beginMenu(page, openers) {
  const pair = `/pair/${page.link}`;
  const repeats = page.data().scripts.some(({ instructions }) => instructions.some((one) => one.repeats?.length));
  const exported = linkButton("Export the pair", `${pair}/export`);
  exportHere(exported, page.link);
  byId("menu-sheet").append(
    goForm(page),
    group(
      "This pair",
      ...Object.entries(openers).map(([id, [words, pressed]]) => openerOf(id, words, pressed)),
      linkButton("The plan", pair),
      linkButton("Yarn left", `${pair}/yarn`),
      linkButton("Logbook", `${pair}/logbook`),
      exported,
      linkButton("A copy to count from", `${pair}/copy`),
      linkButton("All pairs", "/"),
    ),
    takeBackForm(`${pair}/check/undo`),
    element(
      "section",
      element("h2", "This phone"),
      settingsForm(repeats, () => paintAnew(page)),
      calculating,
    ),
    marks,
    element(
      "section",
      element("h2", "Abbreviations"),
      element("p", "A touch on one in the round tells it, too."),
      meanings,
    ),
  );
  marks.id = "legend";
  meanings.id = "meanings";
  calculating.id = "calculating";
  listen(page);
}

/** @param {Page} page */
function listen(page) {
  menu.addEventListener("toggle", () => {
    if (menu.open) return offerCalculating();
    showPlace(page.script(), page.roundsDone());
    if (menu.contains(document.activeElement)) giveBackTheKeys();
  });
  // A finger may have opened and closed it before this was loaded. Who came to it with the Tab key stays.
  if (!menu.open && menu.matches(":focus-within") && !menu.querySelector(":focus-visible")) giveBackTheKeys();
  document.addEventListener("keydown", ({ key }) => key === "Escape" && menu.open && closeMenu());
  document.addEventListener("pointerdown", ({ target }) => leftFor(target));
  // Left by the Tab key, it would lie over what has the focus.
  menu.addEventListener("focusout", ({ relatedTarget }) => leftFor(relatedTarget));
}

async function offerCalculating() {
  const offering = await import("../../phone/offer-runtime.js").catch(() => null);
  offering?.offerRuntime(calculating);
}

/** @param {EventTarget | null} target what is touched or has the focus next, if that is known */
function leftFor(target) {
  if (target instanceof Node && !menu.contains(target)) menu.open = false;
}

/** The round and the meanings, in which other words may stand now. @param {Page} page */
function paintAnew(page) {
  filledFor = null;
  page.back();
}

/** What it has of the sock and the place that are on the page. @param {Page} page */
export function fillMenu(page) {
  const script = page.script();
  field("sock").value = String(page.sock());
  if (script !== filledFor) {
    part.replaceChildren(...script.sections.map(({ title, first }) => new Option(title, String(first))));
    meanings.replaceChildren(...Object.entries(script.meanings ?? {}).flatMap(meaning));
    byId("take-back").hidden = !script.can_undo;
  }
  // What is being chosen in the open menu stays.
  if (script !== filledFor || !menu.open) showPlace(script, page.roundsDone());
  filledFor = script;
}

function closeMenu() {
  menu.open = false;
  giveBackTheKeys();
}

/** Closed, it gives the keys back to the count: the next one may come from a pedal. */
function giveBackTheKeys() {
  byId("done").focus();
}

/**
 * @param {string} title
 * @param {Node[]} items
 */
function group(title, ...items) {
  return element("section", element("h2", title), element("p", ...items));
}

/**
 * @param {string} id
 * @param {string} words
 * @param {() => void} pressed
 */
function openerOf(id, words, pressed) {
  const button = actionButton(words, () => {
    closeMenu();
    pressed();
  });
  button.id = id;
  return button;
}

/** A place in the words that the page has for it: the part, and the round within it. @param {Page} page */
function goForm(page) {
  const go = element("button", "Go");
  go.className = "button";
  part.className = round.className = "input";
  part.id = "go-part";
  Object.assign(round, { id: "go-round", type: "number", inputMode: "numeric", min: "1", required: true });
  range.htmlFor = round.id;
  const label = element("label", "Part");
  label.htmlFor = part.id;
  const form = element("form", element("h2", "Go to"), label, range, part, round, go);
  form.id = "go";
  round.addEventListener("focus", () => round.select());
  part.addEventListener("change", () => showPlace(page.script(), Number(part.value)));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    page.write("go", Number(part.value) + round.valueAsNumber - 1);
    closeMenu();
  });
  return form;
}

/**
 * @param {Script} script
 * @param {number} roundsDone
 */
function showPlace(script, roundsDone) {
  const { first, count, flat } = sectionAt(script, Math.min(roundsDone, script.total - 1));
  part.value = String(first);
  round.value = String(Math.min(roundsDone - first + 1, count));
  round.max = String(count);
  range.textContent = `${flat ? "Row" : "Round"}, 1 to ${count}`;
}

/** @param {string} address */
function takeBackForm(address) {
  const button = element("button", "Take the last change of the plan back");
  button.className = "button";
  const form = element("form", hidden("csrf_token", csrfToken()), hidden("sock", "1"), button);
  Object.assign(form, { id: "take-back", method: "post", action: address, hidden: true });
  return form;
}

function csrfToken() {
  return document.querySelector("meta[name=csrf-token]")?.getAttribute("content") ?? "";
}

/**
 * @param {string} name
 * @param {string} value
 */
function hidden(name, value) {
  return Object.assign(element("input"), { type: "hidden", name, value });
}

/** @param {string} name of a field that the server is told when a change is taken back */
function field(name) {
  return /** @type {HTMLInputElement} */ (byId("take-back").querySelector(`[name=${name}]`));
}

/** @param {[string, string]} words an abbreviation and what it means */
function meaning([short, long]) {
  return [element("dt", short), element("dd", mirrored(long))];
}
