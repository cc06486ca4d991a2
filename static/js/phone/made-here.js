/** Pairs that were planned on this phone: kept here, and sent to the server once there is one. */

import { answerTo } from "../lib/idb.js";
import { fresh, transact } from "../pair/db.js";
import { keepBack } from "../pair/pairs-here.js";
import { RefusedError, post } from "../pair/sync.js";
import { keptPlans } from "../pair/whole-pair.js";
import { forgetPages, onlyHere } from "./stale-pages.js";

/** `data`: for the knit page. `file`: the pair without a logbook. `plan`: the page of its plan.
 * @typedef {{data: import("../pair/instructions.js").PairData, file: object, plan: string}} Made */

/** Milliseconds that a long plan may take on its way. */
const PATIENCE = 60_000;

/**
 * Keep a pair, so that it can be counted at once; whole only when the promise resolves.
 * @param {string} link
 * @param {string} version of the static files
 * @param {Made} made
 * @returns {Promise<string>} the address to go on to
 */
export async function keepMade(link, version, { data, file, plan }) {
  const totals = /** @type {[number, number]} */ (data.socks.map(({ script }) => data.scripts[script].total));
  const newest = Math.max(...data.scripts.map(({ revision }) => revision));
  const opened = new Date().toISOString();
  await transact(
    "readwrite",
    async ({ pairs, data: rounds, meta }) => {
      pairs.put({ ...fresh(link), title: data.title, opened, totals, made: true });
      rounds.put(data, link);
      meta.put(JSON.stringify(file), ["plans", link, "", newest]);
    },
    ["pairs", "data", "meta"],
    "strict",
  );
  keepBack(true);
  try {
    await (await caches.open(`tapeline-${version}`)).put(`/pair/${link}`, onlyHere(plan));
    return `/pair/${link}`;
  } catch {
    return `/pair/${link}/knit`; // without room for the page of its plan it can be knitted all the same
  }
}

/**
 * Hand a pair to the server. Where it plans it in another way by now, the pair stays as it was planned here, which
 * the knit page says.
 * @param {string} link
 */
export async function sendMade(link) {
  const file = await keptPlans(link);
  if (!file) throw new RefusedError("The plan of this pair is not whole on this phone any more.");
  const { alike } = await post(`/pair/${link}/begin`, file, PATIENCE);
  await transact("readwrite", async ({ pairs }) => {
    /** @type {import("../pair/db.js").PairRecord | undefined} */
    const record = await answerTo(pairs.get(link));
    if (!record) return;
    const { made, ...kept } = record;
    pairs.put(alike ? kept : { ...kept, otherwise: true });
  });
  await forgetPages(link); // for those of the server
}
