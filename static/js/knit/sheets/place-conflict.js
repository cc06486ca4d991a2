/** Two devices counted apart: the page shows both places and asks, instead of guessing. */

import { momentWords } from "../../lib/days.js";
import { byId, element } from "../../lib/dom.js";
import { deviceName, transact } from "../../pair/db.js";
import { closePanel } from "../panel.js";
import { actionButton } from "../../lib/sheet.js";
import { sectionRound } from "../../pair/instructions.js";
import { conflictingEnds } from "../../pair/logbook.js";

/** @typedef {import("../../pair/db.js").PairRecord} PairRecord */
/** @typedef {import("../../pair/logbook.js").Entry} Entry */
/** @typedef {import("../../pair/logbook.js").Kind} Kind */
/** @typedef {import("../../pair/instructions.js").Script} Script */

/** The server's own name among the devices: the nil UUID of RFC 9562. */
const SERVER = "00000000-0000-0000-0000-000000000000";

/** @type {HTMLElement | null} */
let shown = null;
/** Which question is shown. */
let asked = "";

/**
 * Ask while the ends of the sock's log differ; take the question away once they do not.
 * @param {PairRecord} record
 * @param {Script} script of the sock on the needles
 * @param {(kind: Kind, target: number) => void} write
 */
export async function showPlaceConflict({ ends, sock }, script, write) {
  const places = conflictingEnds(ends?.[sock] ?? []);
  const question = places.length > 1 ? [sock, ...places.map(({ id }) => id)].join() : "";
  if (question === asked) return;
  asked = question;
  const here = question && (await transact("readonly", ({ meta }) => deviceName(meta)));
  if (question !== asked) return;
  shown?.remove();
  shown = question
    ? panel(
        sock,
        places.map((end) => choice(end, script, here, write)),
      )
    : null;
  // It lies over the tape and the round, which wait for the answer: nothing moves for it.
  if (shown) byId("reading").before(shown);
  for (const covered of ["reading", "round"]) byId(covered).inert = Boolean(shown);
}

/**
 * @param {number} sock
 * @param {HTMLElement[]} choices
 */
function panel(sock, choices) {
  const why = "It was counted on two devices that did not hear of each other. Which round was last on your needles?";
  const title = element("h2", `Where is sock ${sock}?`);
  const made = element("section", title, element("p", why), element("div", ...choices));
  made.className = "panel question";
  made.setAttribute("role", "alert");
  return made;
}

/**
 * @param {Entry} end
 * @param {Script} script
 * @param {string} here this device's name
 * @param {(kind: Kind, target: number) => void} write
 */
function choice({ round, device, at }, script, here, write) {
  const place = element("b", round ? sectionRound(script, Math.min(round, script.total) - 1) : "Not begun");
  const who = device === here ? "here" : device === SERVER ? "by a gauge check" : "on the other device";
  const origin = element("span", `counted ${who}, ${momentWords(new Date(at))}`);
  const button = actionButton("", () => {
    closePanel(); // what it says of a place may be of the other one
    byId("done").focus();
    write("go", round);
  });
  button.append(place, " ", origin);
  return button;
}
