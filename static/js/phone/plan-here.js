/** The form of a new pair where the server cannot be asked: answered on this phone, and the pair is kept here. */

import { element } from "../lib/dom.js";
import { keepMade } from "./made-here.js";
import { ask, begin } from "./planning.js";

const PLANNING = "There is no network: this phone plans it, which takes some seconds.";
const NOT_PLANNED =
  "There is no network, and this phone could not plan it. What you filled in stays here: send it again later.";
const NOT_KEPT = "This phone has no room for the plan. Make some, then send the form again.";
/** Milliseconds after which a silent server counts as none. */
const PATIENCE = 4000;
const LINK_BYTES = 16;

/**
 * Send the form where there is a network, and answer it here where there is none.
 * @param {HTMLFormElement} form
 * @param {(form: HTMLFormElement) => void} follow what a form needs that has come into the page
 */
export function answerWithoutNetwork(form, follow) {
  const link = newLink(); // the same however often it is sent: it is one pair
  const said = element("p");
  said.setAttribute("role", "status");
  form.querySelector("button.primary")?.closest("p")?.after(said);
  if (!navigator.onLine) begin();
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (form.inert) return;
    form.inert = true;
    const token = await freshToken();
    if (token) {
      set(form, "csrf_token", token);
      form.inert = false;
      return form.submit();
    }
    said.textContent = PLANNING;
    said.textContent = await planned(form, link, follow);
    form.inert = false;
  });
}

/**
 * @param {HTMLFormElement} form
 * @param {string} link
 * @param {(form: HTMLFormElement) => void} follow
 * @returns {Promise<string>} what is to be said below the form
 */
async function planned(form, link, follow) {
  const moment = new Date().toISOString();
  const [, , version] = new URL(import.meta.url).pathname.split("/");
  const answer = await ask("form", { fields: fieldsOf(form), link, moment, version }).catch(() => null);
  if (!answer) return NOT_PLANNED;
  if (answer.form) {
    putForm(answer.form, follow);
    return "";
  }
  try {
    location.assign(await keepMade(link, version, answer));
  } catch {
    return NOT_KEPT;
  }
  return "";
}

/** The stitch counts for the form as it stands, as HTML. @param {HTMLFormElement} form @returns {Promise<string>} */
export function countsHere(form) {
  return ask("counts", { fields: fieldsOf(form) });
}

/** The form again, with what is wrong. @param {string} html @param {(form: HTMLFormElement) => void} follow */
function putForm(html, follow) {
  const { body } = new DOMParser().parseFromString(html, "text/html");
  document.getElementById("main")?.replaceChildren(...body.childNodes);
  const form = /** @type {HTMLFormElement} */ (document.getElementById("plan-form"));
  follow(form);
  answerWithoutNetwork(form, follow);
}

/** @param {HTMLFormElement} form */
function fieldsOf(form) {
  return [...new FormData(form)].map(([name, value]) => [name, String(value)]);
}

/** A token for what is sent next, empty where the server does not answer. @returns {Promise<string>} */
async function freshToken() {
  try {
    const response = await fetch("/csrf", { cache: "no-store", signal: AbortSignal.timeout(PATIENCE) });
    return (await response.json()).token;
  } catch {
    return "";
  }
}

/** As the server makes one (companion/web/links.py). */
function newLink() {
  const bytes = crypto.getRandomValues(new Uint8Array(LINK_BYTES));
  return btoa(String.fromCharCode(...bytes))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replaceAll("=", "");
}

/** @param {HTMLFormElement} form @param {string} name @param {string} value */
function set(form, name, value) {
  /** @type {HTMLInputElement} */ (form.elements.namedItem(name)).value = value;
}
