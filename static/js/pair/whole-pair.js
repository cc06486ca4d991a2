/**
 * Every plan of a pair as the server exports them, kept here for times without it, to be joined with the logbook here.
 * They lie beside the device's name, so that pages of an older version can still open the database.
 */

import { answerTo } from "../lib/idb.js";
import { transact } from "./db.js";
import { order } from "./logbook.js";
import { bare } from "./sync.js";

/** @typedef {import("./db.js").KeptEntry} KeptEntry */
/** @typedef {import("./logbook.js").Entry} Entry */
/** @typedef {{title: string, revisions: {number: number, state?: string}[], log: Entry[]}} PairFile */

/** Milliseconds that a file may take for which nobody waits. */
const LONG_PATIENCE = 60_000;

/** The files of a pair: only the newest is kept. @param {string} link */
export function planKeys(link) {
  return IDBKeyRange.bound(["plans", link], ["plans", link, []]);
}

/**
 * Fetch the plans of a pair, unless those that it has now are here.
 * @param {string} link
 * @param {import("./instructions.js").PairData} data
 */
export async function keepPlans(link, { epoch = "", scripts }) {
  const key = ["plans", link, epoch, Math.max(...scripts.map(({ revision }) => revision))];
  if (await transact("readonly", ({ meta }) => answerTo(meta.getKey(key)), ["meta"])) return;
  /** @type {PairFile} */
  const file = JSON.parse(await fetchFile(link, LONG_PATIENCE));
  // The logbook is here already. What is taken back from it must not stay in a copy, nor as the reason of a plan.
  const plans = { ...file, log: [], revisions: file.revisions.map((plan) => ({ ...plan, gauge_check: null })) };
  await transact(
    "readwrite",
    async ({ pairs, meta }) => {
      if (!(await answerTo(pairs.getKey(link)))) return; // forgotten in the meantime
      meta.delete(planKeys(link));
      meta.put(JSON.stringify(plans), key);
    },
    ["pairs", "meta"],
    "relaxed",
  );
}

/**
 * The plans of a pair as a file without a logbook, null where they are not here.
 * @param {string} link
 * @returns {Promise<PairFile | null>}
 */
export async function keptPlans(link) {
  const [text] = await transact("readonly", ({ meta }) => answerTo(meta.getAll(planKeys(link))), ["meta"]);
  return text ? JSON.parse(text) : null;
}

/**
 * What the server would not take goes into no file: it would refuse that whole.
 * @param {PairFile} file
 * @param {KeptEntry[]} entries
 */
export function withEntries(file, entries) {
  const log = new Map(file.log.map((entry) => [entry.id, entry]));
  entries.filter(({ sent }) => sent !== 2).forEach((entry) => log.set(entry.id, bare(entry)));
  return { ...file, log: [...log.values()].sort(order) };
}

/** @param {string} link @param {number} patience milliseconds */
export async function fetchFile(link, patience) {
  const response = await fetch(`/pair/${link}/export`, { cache: "no-cache", signal: AbortSignal.timeout(patience) });
  if (!response.ok) throw new Error(`the server answered ${response.status}`);
  return response.text();
}

/** As the server names it. @param {string} title */
export function nameOf(title) {
  const name =
    title
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "") || "pair";
  return `${name}.tapeline.json`;
}
