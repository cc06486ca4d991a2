/** The last change of the plan, taken back where the server cannot be asked. */

import { byId } from "../lib/dom.js";
import { tell } from "../knit/view.js";
import { propose, proposalsOf, takeProposalBack } from "../pair/proposals.js";
import { ask } from "./planning.js";
import { pairNow } from "./pair-now.js";
import { runtimeHere } from "./runtime.js";
import { makeAnew } from "./stale-pages.js";

/** Milliseconds after which a silent server counts as none. */
const PATIENCE = 3_000;

/**
 * What the server has not heard of is taken back here, and all of it where the server does not answer and this phone
 * calculates.
 * @param {import("../knit/deferred.js").Page} page
 */
export function takeBackHere(page) {
  const form = /** @type {HTMLFormElement} */ (byId("take-back"));
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (!page.record().proposed && !(await isAlone())) return form.submit();
    tell("It is taken back here: some seconds.");
    try {
      await takeBack(page.link, page.sock(), page.script().changed?.free ?? page.roundsDone());
      location.assign(`/pair/${page.link}/knit?did=taken-back`);
    } catch (error) {
      tell(`It could not be taken back: ${/** @type {Error} */ (error).message}.`);
    }
  });
}

/**
 * Fails where this phone cannot.
 * @param {string} link
 * @param {1 | 2} sock
 * @param {number} free rounds up to which nothing is ripped for it
 */
async function takeBack(link, sock, free) {
  const last = (await proposalsOf(link)).at(-1);
  if (last?.revision) {
    await takeProposalBack(link, free);
  } else {
    const whole = await pairNow(link);
    if (!whole) throw new Error("the plans of this pair are not kept here");
    await propose(link, whole.clock, await ask("back", { text: whole.text, sock }));
  }
  await makeAnew(link);
}

/** Whether this phone calculates and the server does not answer. */
async function isAlone() {
  if (!(await runtimeHere().catch(() => null))) return false;
  const signal = AbortSignal.timeout(PATIENCE);
  return fetch("/csrf", { cache: "no-store", signal }).then(
    ({ ok }) => !ok,
    () => true,
  );
}
