/**
 * The form that imports a file, beyond what the server does alone: counts of a copy go into their pair where it is
 * here; of a file that is longer than the server takes at once the plans go first, and the logbook follows like any counts.
 */

import { pairOfMark, takeInCounts } from "../pair/copied-counts.js";
import { fresh, transact } from "../pair/db.js";
import { endsOf, order } from "../pair/logbook.js";

/** @typedef {import("../pair/logbook.js").Entry} Entry */
/** @typedef {{title: string, log: Entry[], copy_of?: string}} PairFile */

const form = /** @type {HTMLFormElement} */ (document.getElementById("import"));

form.addEventListener("submit", async (event) => {
  const chosen = new FormData(form).get("pair");
  if (!(chosen instanceof File)) return;
  event.preventDefault();
  if (!(await taken(chosen).catch(() => false))) form.submit(); // the server takes it, or says what is wrong
});

/** Whether the browser took a file in and leads on. @param {File} chosen */
async function taken(chosen) {
  /** @type {PairFile} */
  const file = JSON.parse(await chosen.text());
  const link = file.copy_of && (await pairOfMark(file.copy_of));
  if (link) {
    await takeInCounts(link, file.log);
    location.assign(`/pair/${link}/knit?did=counts-taken-in`);
    return true;
  }
  if (chosen.size <= Number(form.dataset.mostBytes)) return false;
  await bring(file);
  return true;
}

/** @param {PairFile} pair */
async function bring(pair) {
  const plans = new Blob([JSON.stringify({ ...pair, log: [] })], { type: "application/json" });
  const body = new FormData(form);
  body.set("pair", plans);
  const log = [...pair.log].sort(order);
  const record = { ...fresh(""), title: pair.title, ends: { 1: endsOf(log, 1), 2: endsOf(log, 2) } };
  record.round = { 1: record.ends[1].at(-1)?.round ?? 0, 2: record.ends[2].at(-1)?.round ?? 0 };
  record.clock = log.at(-1)?.clock ?? 0;
  const response = await fetch(form.action, { method: "POST", body });
  const link = response.url.match(/\/pair\/([\w-]{22})(?:\?|$)/)?.[1];
  if (!link) throw new Error(`the server answered ${response.status}`);
  await transact("readwrite", async ({ pairs, log: kept }) => {
    pairs.put({ ...record, link });
    log.forEach((entry) => kept.put({ ...entry, link, sent: 0 }));
  });
  location.assign(response.url);
}
