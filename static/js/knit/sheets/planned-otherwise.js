/** What is said once of a pair that was planned on this phone and that the server would plan in another way. */

import { answerTo } from "../../lib/idb.js";
import { byId, element } from "../../lib/dom.js";
import { actionButton } from "../../lib/sheet.js";
import { transact } from "../../pair/db.js";
import { takeAway, tell } from "../view.js";

const WORDS =
  "Planned on this phone without network, by another version than the server’s. Knit on: the plan stays as it is. ";

let told = false;

/** @param {string} link @param {import("../../pair/db.js").PairRecord} record */
export function showPlannedOtherwise(link, { otherwise }) {
  if (!otherwise || told) return;
  told = true;
  const line = element("p", WORDS);
  line.id = "planned-otherwise";
  const away = actionButton("Put away", async () => {
    takeAway(line);
    byId("done").focus();
    await transact("readwrite", async ({ pairs }) => {
      const { otherwise: said, ...record } = await answerTo(pairs.get(link));
      pairs.put(record);
    });
  });
  line.append(away);
  byId("round").append(line);
  tell(WORDS);
}
