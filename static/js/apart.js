/** Two devices counted apart: the page shows both places and asks, instead of guessing. */

import { momentWords } from "./days.js";
import { deviceName, transact } from "./db.js";
import { placesApart } from "./logbook.js";

/** @typedef {import("./db.js").PairRecord} PairRecord */
/** @typedef {import("./logbook.js").Entry} Entry */
/** @typedef {import("./logbook.js").Kind} Kind */

/** The server's own name among the devices: the nil UUID of RFC 9562. */
const SERVER = "00000000-0000-0000-0000-000000000000";

/** @type {HTMLElement | null} */
let shown = null;
/** Which question is shown. */
let asked = "";

/**
 * Ask while the ends of the sock's log differ; take the question away once they do not.
 * @param {PairRecord} record
 * @param {(kind: Kind, target: number) => void} write
 */
export async function showApart({ ends, sock }, write) {
  const places = placesApart(ends?.[sock] ?? []);
  const question = places.length > 1 ? [sock, ...places.map(({ id }) => id)].join() : "";
  if (question === asked) return;
  asked = question;
  const here = question && (await transact("readonly", ({ meta }) => deviceName(meta)));
  if (question !== asked) return;
  shown?.remove();
  shown = question ? panel(sock, places, here, write) : null;
  if (shown) document.querySelector(".round")?.before(shown);
}

/**
 * @param {number} sock
 * @param {Entry[]} places
 * @param {string} here this device's name
 * @param {(kind: Kind, target: number) => void} write
 */
function panel(sock, places, here, write) {
  const made = document.createElement("section");
  made.className = "apart";
  made.setAttribute("role", "alert");
  const title = document.createElement("h2");
  title.textContent = `Where is sock ${sock}?`;
  const why = document.createElement("p");
  why.textContent = "It was counted on two devices that did not hear of each other. Compare with your needles:";
  const choices = document.createElement("p");
  choices.append(...places.map((end) => choice(end, here, write)));
  made.append(title, why, choices);
  return made;
}

/**
 * @param {Entry} end
 * @param {string} here
 * @param {(kind: Kind, target: number) => void} write
 */
function choice({ round, device, at }, here, write) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button";
  const place = document.createElement("b");
  place.textContent = `${round} ${round === 1 ? "round" : "rounds"} done`;
  const who = device === here ? "here" : device === SERVER ? "by a gauge check" : "on the other device";
  const origin = document.createElement("span");
  origin.textContent = `counted ${who}, ${momentWords(new Date(at))}`;
  button.append(place, " ", origin);
  button.addEventListener("click", () => write("go", round));
  return button;
}
