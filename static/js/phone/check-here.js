/** The result of a gauge check where the server cannot be asked: calculated on this phone, from what is kept here. */

import { element } from "../lib/dom.js";
import { leadTo } from "../lib/sheet.js";
import { got } from "../lib/idb.js";
import { entriesOf, transact } from "../pair/db.js";
import { keptPlans, withEntries } from "../pair/whole-pair.js";
import { runtimeHere } from "./runtime.js";

/** What the worker is asked. `files`: of the runtime. `text`: the file of a pair. `path`: the page's address.
 * @typedef {{files: Record<string, string>, text: string, sock: number, round: number | null, path: string}} Question */

const NEEDS_NETWORK = "What this check means comes with the network. The check is kept here.";
const LATER = "Calculated on this phone. Accepting and leaving out come with the network.";

const link = location.pathname.match(/^\/pair\/([\w-]+)\/check\/result$/)?.[1];
const said = /** @type {HTMLElement} */ (document.getElementById("check-here"));

if (link) document.querySelector(".back a")?.setAttribute("href", `/pair/${link}/knit`);
show().catch(tellWhyNot);

async function show() {
  const [runtime, plans] = link ? await Promise.all([runtimeHere(), keptPlans(link)]) : [];
  if (!link || !runtime || !plans) return tellWhyNot();
  const entries = await transact("readonly", ({ log }) => got(log.getAll(entriesOf(link))));
  const asked = new URLSearchParams(location.search);
  const html = await ask({
    files: runtime.files,
    text: JSON.stringify(withEntries(plans, entries)),
    sock: asked.get("sock") === "2" ? 2 : 1,
    round: asked.has("round") ? Number(asked.get("round")) : null,
    path: location.pathname,
  });
  put(html);
}

/**
 * @param {Question} question
 * @returns {Promise<string>} the page's content
 */
function ask(question) {
  const worker = new Worker(new URL("./planner.js", import.meta.url), { type: "module" });
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data: { html, fault } }) => (html ? resolve(html) : reject(new Error(fault)));
    worker.onerror = reject;
    worker.postMessage(question);
  }).finally(() => worker.terminate());
}

/** Put it on the page. What only the server can do is not there, but for the links beside it. @param {string} html */
function put(html) {
  const [answer] = new DOMParser().parseFromString(html, "text/html").body.children;
  answer.querySelector("#ruler")?.remove(); // for counts in a form that is not there
  answer.querySelector("#again")?.before(more());
  for (const form of answer.querySelectorAll("form")) form.replaceWith(...form.querySelectorAll("a"));
  const line = element("p", LATER);
  line.className = "hint";
  line.id = "check-here";
  line.setAttribute("role", "status");
  answer.querySelector(".lead")?.after(line);
  said.closest(".check")?.replaceWith(answer);
}

/** The way to the form that takes counts without network: the answer asks for more. */
function more() {
  const lead = leadTo("Count at these places", `/pair/${link}/check${location.search}`);
  lead.classList.add("primary", "big");
  return element("p", lead);
}

function tellWhyNot() {
  said.textContent = NEEDS_NETWORK;
}
