/**
 * The pages on which a plan to go on by is chosen, where the server cannot be asked: after a gauge check, after a
 * try-on, and how to knit sock two. They are calculated on this phone, from what is kept here.
 */

import { element } from "../lib/dom.js";
import { leadTo } from "../lib/sheet.js";
import { sawCheck } from "../pair/kept-check.js";
import { propose } from "../pair/proposals.js";
import { pairNow } from "./pair-now.js";
import { ask } from "./planning.js";

const CALCULATING = "Calculating on this phone: some seconds…";
const NEEDS_NETWORK = "What this means comes with the network. What was written down is kept here.";
const HERE = "Calculated on this phone.";
const NO_LEAVING_OUT = "Leaving out comes with the network.";

/** @type {Record<string, string>} */
const TITLES = { check: "Gauge check", fit: "What the try-on means", second: "Sock two" };

/** What is chosen, by the end of the address. @type {Record<string, "check" | "fit" | "second">} */
const CHOICES = { "check/result": "check", fit: "fit", second: "second" };

/** Put the page of the address in place of what is there; the address has the sock and the place. */
export async function showChoiceHere() {
  const [, link, ending] = location.pathname.match(/^\/pair\/([\w-]+)\/(.+)$/) ?? [];
  const choice = CHOICES[ending];
  if (!choice) return;
  const said = element("p", CALCULATING);
  said.id = "check-here";
  said.setAttribute("role", "status");
  const back = element("p", leadBack(link));
  back.className = "back";
  const page = element("div", element("h1", TITLES[choice]), said, back);
  page.className = "check answer";
  document.querySelector(".check")?.replaceWith(page);
  const answer = await calculated(link, choice).catch(() => null);
  if (answer) page.replaceWith(answer);
  else said.textContent = NEEDS_NETWORK;
}

/** What the answer is calculated from. @typedef {{choice: string, text: string, clock: number, sock: number, done: number | null}} Basis */

/** @param {string} link @param {string} choice */
async function calculated(link, choice) {
  const basis = await basisOf(link, choice);
  if (!basis) return null;
  const { text, sock, done } = basis;
  const html = await ask("page", { choice, text, sock, done, path: location.pathname });
  return shown(link, html, basis);
}

/** Null where the plans are not here. @param {string} link @param {string} choice @returns {Promise<Basis | null>} */
async function basisOf(link, choice) {
  const whole = await pairNow(link);
  const place = new URLSearchParams(location.search);
  const sock = choice === "second" || place.get("sock") === "2" ? 2 : 1;
  return whole && { ...whole, choice, sock, done: place.has("round") ? Number(place.get("round")) : null };
}

/**
 * What only the server can do is not there, but for the links beside it.
 * @param {string} link
 * @param {string} html
 * @param {Basis} basis
 */
function shown(link, html, basis) {
  const [answer] = new DOMParser().parseFromString(html, "text/html").body.children;
  answer.querySelector("#ruler")?.remove(); // for counts in a form that is not there
  answer.querySelector("#again")?.before(more(link));
  const line = element("p", HERE);
  line.className = "hint";
  line.id = "check-here";
  line.setAttribute("role", "status");
  for (const form of answer.querySelectorAll("form")) {
    if (form.querySelector("[name=option], [name=choice]")) acceptHere(form, link, basis, line);
    else {
      if (form.action.endsWith("/leave-out")) line.textContent = `${HERE} ${NO_LEAVING_OUT}`;
      form.replaceWith(...form.querySelectorAll("a"));
    }
  }
  (answer.querySelector(".lead") ?? answer.firstElementChild)?.after(line);
  return answer;
}

/**
 * @param {HTMLFormElement} form in which something is chosen
 * @param {string} link
 * @param {Basis} basis
 * @param {HTMLElement} line where it is said why it could not be
 */
function acceptHere(form, link, { choice, text, clock, sock }, line) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const fields = new FormData(form, event.submitter);
    const key = fields.get("option") ?? fields.get("choice");
    const chosen = { choice, key, sock, done: Number(fields.get("round") ?? 0) };
    try {
      const did = await accepted(link, clock, await ask("accept", { chosen, text, moment: new Date().toISOString() }));
      location.assign(`/pair/${link}/knit${did && `?did=${did}`}`);
    } catch (error) {
      line.textContent = `This could not be accepted: ${/** @type {Error} */ (error).message}.`;
      line.scrollIntoView({ block: "center" });
    }
  });
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
  await sawCheck(link);
  if (made.proposal.choice === "second") return "sock-two";
  return made.place ? "" : "accepted";
}

/** @param {string} link */
function leadBack(link) {
  return Object.assign(element("a", "Back to the knitting"), { href: `/pair/${link}/knit` });
}

/** The way to the form that takes counts without network: the answer asks for more. @param {string} link */
function more(link) {
  const lead = leadTo("Count at these places", `/pair/${link}/check${location.search}`);
  lead.classList.add("primary", "big");
  return element("p", lead);
}
