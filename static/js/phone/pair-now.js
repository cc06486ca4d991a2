/** A pair as this phone knows it, as the file that is calculated from. */

import { answerTo } from "../lib/idb.js";
import { entriesOf, transact } from "../pair/db.js";
import { proposalsOf, withProposals } from "../pair/proposals.js";
import { keptPlans, withEntries } from "../pair/whole-pair.js";

/**
 * Its file, the highest clock in it, and whether no server has it yet; null where its plans are not here.
 * @param {string} link
 * @returns {Promise<{text: string, clock: number, alone: boolean} | null>}
 */
export async function pairNow(link) {
  const plans = await keptPlans(link);
  if (!plans) return null;
  const whole = withProposals(plans, await proposalsOf(link));
  const [record, entries] = await transact("readonly", ({ pairs, log }) =>
    Promise.all([answerTo(pairs.get(link)), answerTo(log.getAll(entriesOf(link)))]),
  );
  return { text: JSON.stringify(withEntries(whole, entries)), clock: record.clock, alone: Boolean(record.made) };
}
