/** The export of a pair as a file, made here where the server does not answer. */

import { answerTo } from "../lib/idb.js";
import { saveFile } from "../lib/save-file.js";
import { entriesOf, transact } from "./db.js";
import { proposalsOf, withProposals } from "./proposals.js";
import { fetchFile, keptPlans, nameOf, withEntries } from "./whole-pair.js";

/** Milliseconds after which a file is made here instead. */
const PATIENCE = 5_000;

/**
 * Make a link that exports a pair work without the server too.
 * @param {HTMLAnchorElement} anchor
 * @param {string} link
 */
export function exportHere(anchor, link) {
  anchor.addEventListener("click", async (event) => {
    event.preventDefault();
    const fetched = await fetchFile(link, PATIENCE).catch(() => null);
    const file = fetched ? JSON.parse(fetched) : await keptPlans(link);
    if (!file) return location.assign(anchor.href);
    const entries = await transact("readonly", ({ log }) => answerTo(log.getAll(entriesOf(link))));
    const whole = withProposals(file, await proposalsOf(link));
    saveFile(nameOf(file.title), JSON.stringify(withEntries(whole, entries)));
  });
}
