/** What is chosen on a page that this phone has made: a plan to go on by, or a mistake that is left out. */

import { sawCheck } from "../pair/kept-check.js";
import { propose } from "../pair/proposals.js";
import { withdrawRemark } from "../pair/remarks.js";
import { ask } from "./planning.js";
import { makeAnew } from "./stale-pages.js";

/** @typedef {import("./page-here.js").Basis} Basis */

/** The fields that say what is chosen, one on each page. */
const KEYS = ["option", "choice", "rounds"];

/**
 * Have its forms answered here; of others only the links stay.
 * @param {HTMLElement} content of the page
 * @param {Basis} basis
 * @param {HTMLElement} said where it is told why something could not be done
 * @param {() => Promise<unknown>} again makes the page anew
 */
export function chosenHere(content, basis, said, again) {
  for (const form of content.querySelectorAll("form")) {
    if (form.querySelector(KEYS.map((name) => `[name=${name}]`).join())) {
      onSubmit(form, said, "accepted", (fields) => accept(basis, fields));
    } else if (form.action.includes("/leave-out")) {
      onSubmit(form, said, "left out", async (fields) => {
        await withdrawRemark(basis.link, String(fields.get("entry")));
        await again();
      });
    } else form.replaceWith(...form.querySelectorAll("a"));
  }
}

/**
 * @param {HTMLFormElement} form
 * @param {HTMLElement} said
 * @param {string} what could not be done
 * @param {(fields: FormData) => Promise<void>} act
 */
function onSubmit(form, said, what, act) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    try {
      await act(new FormData(form, event.submitter));
    } catch (error) {
      said.textContent = `This could not be ${what}: ${/** @type {Error} */ (error).message}.`;
      said.scrollIntoView({ block: "center" });
    }
  });
}

/** @param {Basis} basis @param {FormData} fields */
async function accept({ link, page, text, clock, sock }, fields) {
  const key = KEYS.map((name) => fields.get(name)).find((value) => value !== null);
  const done = Number(fields.get("round") ?? fields.get(`round_${sock}`) ?? 0);
  const chosen = { choice: page, key, sock, done };
  const did = await accepted(link, clock, await ask("accept", { chosen, text, moment: new Date().toISOString() }));
  location.assign(`/pair/${link}/knit${did && `?did=${did}`}`);
}

/**
 * Answers with the word for what the knit page has to say of it, none where the changed rounds say it.
 * @param {string} link
 * @param {number} clock
 * @param {import("../pair/proposals.js").Acceptance | null} made null where the plan stays as it is
 */
async function accepted(link, clock, made) {
  if (!made) return "left";
  await propose(link, clock, made);
  await Promise.all([sawCheck(link), makeAnew(link)]);
  if (made.proposal.choice === "second") return "sock-two";
  return made.place ? "" : "accepted";
}
