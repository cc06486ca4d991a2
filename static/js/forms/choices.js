/** Keeps the stitch counts on offer, or the drawing of a design, in step with what is typed. */

import { mirrorParts } from "../lib/mirrored-parts.js";
import { runtimeHere } from "../phone/runtime.js";

const PAUSE = 350; // ms without a key before the server is asked

/**
 * @param {HTMLFormElement} form
 * @param {HTMLElement} place where the server's fragment goes; its data-from is the address that answers with it
 * @param {HTMLElement} said a status line for screen readers
 */
export function followChoices(form, place, said) {
  let timer = 0;
  let asking = new AbortController();
  form.addEventListener("input", ({ target }) => {
    if (!(target instanceof HTMLInputElement && target.name === "title")) askSoon();
  });
  // What was typed before this script was there told nobody, nor does a browser that fills the form in again.
  if ([...form.elements].some(wasTyped)) askSoon();

  function askSoon() {
    clearTimeout(timer);
    asking.abort();
    asking = new AbortController();
    const { signal } = asking;
    timer = window.setTimeout(() => refresh(signal), PAUSE);
  }

  /** @param {AbortSignal} signal */
  async function refresh(signal) {
    const fragment = await ask(place.dataset.from ?? "", form, signal);
    if (fragment === null || signal.aborted) return;
    const focused = place.contains(document.activeElement);
    place.replaceChildren(document.createRange().createContextualFragment(fragment));
    mirrorParts(place);
    if (focused) /** @type {HTMLElement | null} */ (place.querySelector("input:checked"))?.focus();
    said.textContent = place.querySelector("[data-said]")?.textContent ?? "";
  }
}

/** Of a phone that calculates. @param {HTMLFormElement} form @returns {Promise<string | null>} */
async function askHere(form) {
  if (!(await runtimeHere().catch(() => null))) return null;
  const { countsHere } = await import("../phone/plan-here.js");
  return countsHere(form).catch(() => null);
}

/** @param {Element} field */
function wasTyped(field) {
  return (
    field instanceof HTMLInputElement &&
    field.name !== "title" &&
    (field.value !== field.defaultValue || field.checked !== field.defaultChecked)
  );
}

/**
 * The fragment for the form as it stands; null when superseded or out of reach: the form still works then.
 * @param {string} from
 * @param {HTMLFormElement} form
 * @param {AbortSignal} signal
 */
async function ask(from, form, signal) {
  const body = new URLSearchParams();
  new FormData(form).forEach((value, name) => body.append(name, String(value)));
  const token = body.get("csrf_token") ?? "";
  try {
    const answer = await fetch(from, { method: "POST", body, signal, headers: { "X-CSRFToken": token } });
    return answer.ok ? await answer.text() : null;
  } catch {
    return signal.aborted || from !== "/plan/choices" ? null : askHere(form);
  }
}
