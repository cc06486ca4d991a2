/**
 * Pages of a pair that this phone makes where the server cannot be asked, from what is kept here: its plan, pattern, yarn
 * and logbook, and those on which a plan to go on by is chosen.
 */

import { element } from "../lib/dom.js";
import { actionButton, linkButton } from "../lib/sheet.js";
import { chosenHere } from "./chosen-here.js";
import { pairNow } from "./pair-now.js";
import { ask } from "./planning.js";
import { ONLY_HERE } from "./stale-pages.js";

const CALCULATING = "Calculating on this phone: some seconds…";
const KEPT = "What was counted and written down is kept here.";
const NEEDS_NETWORK = `This comes with the network. ${KEPT}`;
const HERE = "Calculated on this phone.";
const NO_NOTES = "What your leader wrote comes with the network.";

/** @type {Record<string, string>} */
const TITLES = {
  check: "Gauge check",
  fit: "What the try-on means",
  second: "Sock two",
  yarn: "Yarn left",
  pattern: "Written pattern",
  logbook: "Logbook",
  plan: "The plan",
};

/** The names of pages by the end of their address, where they are others. @type {Record<string, string>} */
const NAMES = { "check/result": "check", "": "plan" };

/** What a page is made from. @typedef {{link: string, page: string, text: string, clock: number, sock: number, done: number | null}} Basis */

/** Make the page of the address in place of what is there; the address has the sock, the place and the unit. */
export async function showPageHere() {
  const [, link, ending] = location.pathname.match(/^\/pair\/([\w-]+)\/?(.*)$/) ?? [];
  const page = NAMES[ending] ?? ending;
  if (!TITLES[page]) return;
  const said = line(CALCULATING);
  const back = element("p", Object.assign(element("a", "Back to the knitting"), { href: `/pair/${link}/knit` }));
  back.className = "back";
  main().replaceChildren(element("h1", TITLES[page]), said, back);
  const missing = await madeHere(link, page).then((made) => (made ? "" : NEEDS_NETWORK), fault);
  if (!missing || (await fetchedBefore())) return;
  said.textContent = missing;
  const again = actionButton("Try again", () => location.reload()); // with a Python that is begun anew
  said.after(element("p", again));
}

/** @param {Error} error */
function fault({ message }) {
  return `This could not be calculated: ${message}. ${KEPT}`;
}

/** Whether the page could be made. @param {string} link @param {string} page */
export async function madeHere(link, page) {
  const basis = await basisOf(link, page);
  if (!basis) return false;
  const before = document.getElementById("made-here");
  if (before) before.textContent = CALCULATING;
  const { text, sock, done, alone } = basis;
  const [, , version] = new URL(import.meta.url).pathname.split("/");
  const unit = new URLSearchParams(location.search).get("unit");
  const address = { path: location.pathname, version, sock, done, unit, alone };
  const made = new DOMParser().parseFromString(await ask("page", { page, text, address }), "text/html");
  await show(made, basis);
  return true;
}

/** Null where the plans are not here. @param {string} link @param {string} page @returns {Promise<(Basis & {alone: boolean}) | null>} */
async function basisOf(link, page) {
  const whole = await pairNow(link);
  const place = new URLSearchParams(location.search);
  const sock = page === "second" || place.get("sock") === "2" ? 2 : 1;
  return whole && { link, page, ...whole, sock, done: place.has("round") ? Number(place.get("round")) : null };
}

/** @param {Document} made @param {Basis} basis */
async function show(made, basis) {
  const said = line(JSON.parse(basis.text).follows ? `${HERE} ${NO_NOTES}` : HERE);
  const content = /** @type {HTMLElement} */ (made.getElementById("main"));
  content.querySelector("#ruler")?.remove(); // for counts in a form that is not there
  content.querySelector("#again")?.before(more(basis.link));
  (content.querySelector(".lead") ?? content.querySelector("h1"))?.after(said);
  chosenHere(content, basis, said, () => madeHere(basis.link, basis.page));
  await dress(made);
  main().replaceChildren(...content.childNodes);
  document.title = made.title;
  begin(made);
}

/** The page as it was last fetched, where it is kept and could not be made; answers whether it is. */
async function fetchedBefore() {
  const kept = await caches.match(location.pathname);
  const made = new DOMParser().parseFromString((await kept?.text()) ?? "", "text/html");
  const content = made.getElementById("main");
  if (!content || kept?.headers.has(ONLY_HERE)) return false;
  await dress(made);
  main().replaceChildren(...content.childNodes);
  return true;
}

/** Its looks, and what it tells its scripts; resolves when they are there, or do not come. @param {Document} made */
function dress(made) {
  Object.assign(document.body.dataset, made.body.dataset);
  const known = new Set([...document.styleSheets].map(({ href }) => href));
  const styles = /** @type {NodeListOf<HTMLLinkElement>} */ (made.querySelectorAll("link[rel=stylesheet]"));
  return Promise.all([...styles].filter(({ href }) => !known.has(href)).map(added));
}

/** @param {HTMLLinkElement} style */
function added(style) {
  return new Promise((resolve) => {
    style.onload = style.onerror = resolve;
    document.head.append(style);
  });
}

/** Its scripts, each once. @param {Document} made */
function begin(made) {
  // The times of its logbook are those of this phone already, for which its script would load it again.
  const here = new URL(location.href);
  here.searchParams.set("zone", Intl.DateTimeFormat().resolvedOptions().timeZone);
  if (made.getElementById("zone")) history.replaceState(history.state, "", here);
  for (const { src } of /** @type {NodeListOf<HTMLScriptElement>} */ (made.querySelectorAll("script[src]")))
    import(src);
}

function main() {
  return /** @type {HTMLElement} */ (document.getElementById("main"));
}

/** @param {string} words */
function line(words) {
  const said = element("p", words);
  said.className = "hint";
  said.id = "made-here";
  said.setAttribute("role", "status");
  return said;
}

/** The way to the form that takes counts without network: the answer asks for more. @param {string} link */
function more(link) {
  const lead = linkButton("Count at these places", `/pair/${link}/check${location.search}`);
  lead.classList.add("primary", "big");
  return element("p", lead);
}
