/** A pair that the server does not know any more, and this device does: it is put back if the knitter says so. */

import { answerTo } from "../../lib/idb.js";
import { transact, unsend } from "../../pair/db.js";
import { element } from "../../lib/dom.js";
import { actionButton } from "../../lib/sheet.js";
import { takeAway, tell } from "../view.js";
import { KnownPairError, RefusedError, post } from "../../pair/sync.js";
import { keptPlans } from "../../pair/whole-pair.js";

const UNKNOWN = "The server does not know this pair any more. All of it is kept here: go on counting.";

/** Milliseconds that many plans may take on their way. */
const PATIENCE = 60_000;

/**
 * Say so and offer it, for as long as the server does not know the pair; away from the thumb that counts.
 * @param {string} link
 * @param {boolean} unknown
 * @param {() => void} back after the server has the pair
 */
export function offerPutBack(link, unknown, back) {
  const shown = document.getElementById("put-back");
  if (!unknown) takeAway(shown);
  if (!unknown || shown) return;
  const trouble = element("p");
  trouble.setAttribute("role", "alert");
  const button = actionButton("Put it back", async () => {
    button.disabled = true;
    try {
      await putBack(link);
      back();
    } catch (error) {
      button.disabled = false;
      trouble.textContent = whyNot(error);
    }
  });
  const offer = element("section", element("p", UNKNOWN), trouble, element("p", button));
  offer.id = "put-back";
  offer.setAttribute("aria-label", "Not on the server");
  document.querySelector(".round")?.after(offer); // nothing that is read moves for it
  tell(UNKNOWN);
}

/** The plans are put back, and then the logbook is sent like any counts. @param {string} link */
async function putBack(link) {
  const plans = await keptPlans(link);
  if (!plans)
    throw new RefusedError(
      "Its plan was never kept here as a whole. A file that was exported from it can be imported on the first page.",
    );
  try {
    await post(`/pair/${link}/put-back`, plans, PATIENCE);
  } catch (error) {
    if (!(error instanceof KnownPairError)) throw error; // another device of the knitter's was quicker
  }
  await transact("readwrite", async ({ pairs, log }) => {
    await unsend(log, link);
    const record = await answerTo(pairs.get(link));
    if (record) pairs.put({ ...record, after: 0, last: undefined });
  });
}

/** @param {unknown} error */
function whyNot(error) {
  return error instanceof RefusedError ? error.message : "No network now. Try it again later.";
}
