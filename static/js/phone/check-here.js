/** The result of a gauge check where the server cannot be asked: calculated on this phone, from what is kept here. */

import { element } from "../lib/dom.js";
import { leadTo } from "../lib/sheet.js";
import { got } from "../lib/idb.js";
import { entriesOf, transact } from "../pair/db.js";
import { sawCheck } from "../pair/kept-check.js";
import { propose, proposalsOf, withProposals } from "../pair/proposals.js";
import { keptPlans, withEntries } from "../pair/whole-pair.js";
import { ask } from "./planning.js";

const CALCULATING = "Calculating on this phone: some seconds…";
const NEEDS_NETWORK = "What this check means comes with the network. The check is kept here.";
const LATER = "Calculated on this phone. Leaving out comes with the network.";

/**
 * Put the result of all checks of a pair in place of what is on the page; its address has the sock and the place.
 * @param {string} link
 * @returns {Promise<void>}
 */
export async function showCheckHere(link) {
  const said = element("p", CALCULATING);
  said.id = "check-here";
  said.setAttribute("role", "status");
  const back = element("p", leadBack(link));
  back.className = "back";
  const page = element("div", element("h1", "Gauge check"), said, back);
  page.className = "check answer";
  document.querySelector(".check")?.replaceWith(page);
  const answer = await calculated(link).catch(() => null);
  if (answer) page.replaceWith(answer);
  else said.textContent = NEEDS_NETWORK;
}

/** What the answer is calculated from. @typedef {{text: string, clock: number, sock: number, done: number | null}} Basis */

/** @param {string} link */
async function calculated(link) {
  const basis = await basisOf(link);
  if (!basis) return null;
  const { text, sock, done } = basis;
  const html = await ask("check", { text, sock, done, path: location.pathname });
  return shown(link, html, basis);
}

/** Null where the plans are not here. @param {string} link @returns {Promise<Basis | null>} */
async function basisOf(link) {
  const plans = await keptPlans(link);
  if (!plans) return null;
  const whole = withProposals(plans, await proposalsOf(link));
  const [record, entries] = await transact("readonly", ({ pairs, log }) =>
    Promise.all([got(pairs.get(link)), got(log.getAll(entriesOf(link)))]),
  );
  const place = new URLSearchParams(location.search);
  return {
    text: JSON.stringify(withEntries(whole, entries)),
    clock: record.clock,
    sock: place.get("sock") === "2" ? 2 : 1,
    done: place.has("round") ? Number(place.get("round")) : null,
  };
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
  const line = element("p", LATER);
  line.className = "hint";
  line.id = "check-here";
  line.setAttribute("role", "status");
  for (const form of answer.querySelectorAll("form")) {
    if (form.action.endsWith("/check/accept")) acceptHere(form, link, basis, line);
    else form.replaceWith(...form.querySelectorAll("a"));
  }
  answer.querySelector(".lead")?.after(line);
  return answer;
}

/**
 * @param {HTMLFormElement} form of one of the ways to go on
 * @param {string} link
 * @param {Basis} basis
 * @param {HTMLElement} line where it is said why it could not be
 */
function acceptHere(form, link, { text, clock }, line) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const fields = new FormData(form);
    const asked = { sock: Number(fields.get("sock")), done: Number(fields.get("round")), key: fields.get("option") };
    try {
      const made = await ask("accept", { text, ...asked, moment: new Date().toISOString() });
      await propose(link, clock, made);
      await sawCheck(link);
      location.assign(`/pair/${link}/knit${made.place ? "" : "?did=accepted"}`);
    } catch (error) {
      line.textContent = `This could not be accepted: ${/** @type {Error} */ (error).message}.`;
    }
  });
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
