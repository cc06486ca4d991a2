/** Stands in for pair/export-here.js: what the copy has counted, in a file for Tapeline to take in. */

import { element } from "../lib/dom.js";
import { answerTo } from "../lib/idb.js";
import { saveFile } from "../lib/save-file.js";
import { actionButton } from "../lib/sheet.js";
import { entriesOf, transact } from "../pair/db.js";
import { nameOf, withEntries } from "../pair/whole-pair.js";
import { pairFile } from "./from-file.js";

/** @param {HTMLAnchorElement} anchor that exports the pair where there is a server @param {string} link the pair's mark */
export function exportHere(anchor, link) {
  anchor.hidden = true;
  const said = element("p");
  said.setAttribute("role", "status");
  const button = actionButton("Save my counts", async () => {
    const file = pairFile();
    const entries = await transact("readonly", ({ log }) => answerTo(log.getAll(entriesOf(link))));
    saveFile(nameOf(file.title), JSON.stringify({ ...withEntries(file, entries), copy_of: link }));
    said.textContent = "The file is with your downloads.";
  });
  document.querySelector("#about-copy h2")?.after(element("p", button), said);
}
