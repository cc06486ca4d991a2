/** A change was accepted on this phone without network, and another plan follows by now: the page asks. */

import { byId, element } from "../../lib/dom.js";
import { closePanel } from "../panel.js";
import { actionButton } from "../../lib/sheet.js";
import { dropProposals, proposalsOf, sendProposals } from "../../pair/proposals.js";
import { fetchPair } from "../../pair/sync.js";
import { takeAway } from "../view.js";

/** @typedef {import("../deferred.js").Page} Page */

const WHY =
  "The pair was changed on another device while this phone had no network. The rounds counted here stay counted. By which plan are you knitting?";

/** @type {HTMLElement | null} */
let shown = null;

/** Ask while the server waits for the answer. @param {Page} page */
export async function showPlanConflict(page) {
  const asks = page.record().proposed === "asks";
  if (asks === Boolean(shown)) return;
  takeAway(shown);
  shown = null;
  if (asks) {
    shown = panel(page);
    byId("reading").before(shown);
    const [first] = await proposalsOf(page.link);
    if (first?.revision) shown.querySelector("b")?.append(`: ${first.revision.summary.split("\n")[0]}`);
  }
  for (const covered of ["reading", "round"]) byId(covered).inert = Boolean(shown);
}

/** @param {Page} page */
function panel(page) {
  const trouble = element("p");
  trouble.setAttribute("role", "alert");
  const here = choice("By the change made here", "it becomes the plan of the pair again", () =>
    sendProposals(page.link, true),
  );
  const there = choice("By the other plan", "the change made here is dropped", async () =>
    dropProposals(page.link, await fetchPair(page.link)),
  );
  const made = element("section", element("h2", "Two plans"), element("p", WHY), trouble, element("div", here, there));
  made.className = "panel question";
  made.setAttribute("role", "alert");
  return made;

  /** @param {string} words @param {string} means @param {() => Promise<unknown>} answer */
  function choice(words, means, answer) {
    const button = actionButton("", async () => {
      try {
        await answer();
        closePanel();
        location.assign(`/pair/${page.link}/knit`);
      } catch (error) {
        trouble.textContent = /** @type {Error} */ (error).message;
      }
    });
    button.append(element("b", words), " ", element("span", means));
    return button;
  }
}
