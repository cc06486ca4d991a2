/** The result of a gauge check where the server cannot be asked: calculated on this phone, from what is kept here. */

import { element } from "../lib/dom.js";
import { leadTo } from "../lib/sheet.js";
import { got } from "../lib/idb.js";
import { entriesOf, transact } from "../pair/db.js";
import { keptPlans, withEntries } from "../pair/whole-pair.js";
import { ask } from "./planning.js";

const CALCULATING = "Calculating on this phone: some seconds…";
const NEEDS_NETWORK = "What this check means comes with the network. The check is kept here.";
const LATER = "Calculated on this phone. Accepting and leaving out come with the network.";

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

/** @param {string} link */
async function calculated(link) {
  const plans = await keptPlans(link);
  if (!plans) return null;
  const entries = await transact("readonly", ({ log }) => got(log.getAll(entriesOf(link))));
  const place = new URLSearchParams(location.search);
  const html = await ask("check", {
    text: JSON.stringify(withEntries(plans, entries)),
    sock: place.get("sock") === "2" ? 2 : 1,
    done: place.has("round") ? Number(place.get("round")) : null,
    path: location.pathname,
  });
  return shown(link, html);
}

/**
 * What only the server can do is not there, but for the links beside it.
 * @param {string} link
 * @param {string} html
 */
function shown(link, html) {
  const [answer] = new DOMParser().parseFromString(html, "text/html").body.children;
  answer.querySelector("#ruler")?.remove(); // for counts in a form that is not there
  answer.querySelector("#again")?.before(more(link));
  for (const form of answer.querySelectorAll("form")) form.replaceWith(...form.querySelectorAll("a"));
  const line = element("p", LATER);
  line.className = "hint";
  line.id = "check-here";
  line.setAttribute("role", "status");
  answer.querySelector(".lead")?.after(line);
  return answer;
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
