/** A finished sock and a finished pair: a small celebration, and a summary worth keeping. */

import { afterPair } from "./after-finish.js";
import { hours, number } from "./progress-panel.js";
import { byId, element, svg } from "../../lib/dom.js";
import { listOf } from "../panel.js";
import { convert } from "../../lib/units.js";
import { askKnittingSoFar } from "../../pair/knitting-so-far.js";
import { scriptOf, stitchesOf } from "../../pair/instructions.js";
import { colourOf } from "../../pair/small-sock.js";
import { fetchPair } from "../../pair/sync.js";

/** @typedef {import("../deferred.js").Page} Page */
/** @typedef {import("../../pair/logbook.js").Sock} Sock */
/** @typedef {import("../../pair/instructions.js").PairData} PairData */
/** @typedef {import("../../pair/instructions.js").Script} Script */
/** @typedef {import("../../lib/units.js").Unit} Unit */

const SOCK = "M-4 0V19Q-4 27 4 27H14";

/** Shows the finished socks again, as the server knows them. */
let refresh = async () => {};
// Weighed or measured at the end, it is shown as soon as the server has it.
document.addEventListener("sent", () => refresh());

/**
 * @param {Page} page
 * @param {Sock[]} socks those that are finished, and shown together
 */
export async function showFinish(page, socks) {
  const which = socks.join();
  if (byId("finish").dataset.for === which) return;
  byId("finish").dataset.for = which;
  const past = await askKnittingSoFar(page).catch(() => null);
  const shown = () => byId("finish").dataset.for === which;
  if (!shown()) return;
  byId("finish").replaceChildren(
    line(socks.map((sock) => scriptOf(page.data(), sock))),
    summary(page.data(), socks, past),
    ...(socks.length === 2 ? [afterPair(page.link, page.remarked)] : []),
  );
  refresh = async () => {
    const data = await fetchPair(page.link).catch(() => null);
    if (data && shown())
      byId("finish")
        .querySelector("dl")
        ?.replaceWith(summary(data, socks, past));
  };
  refresh();
}

/** The knitter has gone back into a sock. */
export function hideFinish() {
  byId("finish").replaceChildren();
  delete byId("finish").dataset.for;
  refresh = async () => {};
}

/**
 * @param {PairData} data
 * @param {Sock[]} socks
 * @param {import("../../pair/pace.js").KnittingSoFar | null} past
 */
function summary(data, socks, past) {
  const scripts = socks.map((sock) => scriptOf(data, sock));
  return listOf([
    ["Rounds", number(sum(scripts.map(({ total }) => total)))],
    ["Stitches", number(sum(scripts.flatMap(stitchesOf)))],
    ["At the needles", past?.knitted && socks.length === 2 ? `about ${hours(past.knitted)}` : null],
    ["Yarn", yarnWords(data, socks)],
    gaugeOf(data, scripts),
  ]);
}

/** Socks on a washing line. @param {Script[]} scripts */
function line(scripts) {
  const rope = svg("path", { class: "line", d: "M0 4Q60 14 120 4" });
  const drawing = svg("svg", { viewBox: "0 0 120 46", class: "washing", "aria-hidden": "true" }, rope);
  scripts.forEach((script, index) => {
    const x = scripts.length === 1 ? 56 : 38 + index * 40;
    const sock = svg("path", { d: SOCK, class: "hung" });
    const yarns = script.yarns ?? [];
    const main = Math.max(
      0,
      yarns.findIndex(({ key }) => key === script.main),
    );
    if (yarns.length > 1 || yarns[main]?.colour) sock.setAttribute("stroke", colourOf(yarns, main));
    else sock.classList.add("plain");
    const peg = svg("path", { class: "peg", d: "M-4 -4v8" });
    drawing.append(svg("g", { transform: `translate(${x} 9)` }, sock, peg));
  });
  return drawing;
}

/**
 * What these socks took of each yarn: grams where it was weighed, else the metres that the plan calculates.
 * @param {PairData} data
 * @param {Sock[]} socks
 */
function yarnWords(data, socks) {
  const parts = (scriptOf(data, socks[0]).yarns ?? []).map(({ key, name }) => {
    const grams = sum(socks.map((sock) => data.yarn_used?.[key]?.[sock - 1] ?? 0));
    const metres = sum(socks.map((sock) => scriptOf(data, sock).yarns?.find((yarn) => yarn.key === key)?.metres ?? 0));
    const taken = grams
      ? `${inUnit(grams, "weight", data.unit)} ${data.unit === "in" ? "oz" : "g"}, by weighing`
      : metres && `${inUnit(metres, "yardage", data.unit)} ${data.unit === "in" ? "yd" : "m"}, by the plan`;
    return taken && `${name || `yarn ${key}`}: about ${taken}`;
  });
  return parts.filter(Boolean).join("; ");
}

/** To the next whole. @param {number[]} values */
function sum(values) {
  return Math.round(values.reduce((all, value) => all + value, 0));
}

/**
 * The gauge that checks found; where nothing was counted, that of the plan.
 * @param {PairData} data
 * @param {Script[]} scripts
 * @returns {[string, string]} its name, and the gauge
 */
function gaugeOf({ learned, unit }, scripts) {
  if (learned) return ["Gauge found", gaugeWords(unit, learned.stitches.per_10cm, learned.rounds?.per_10cm)];
  const planned = scripts.map((script) => gaugeWords(unit, script.stitches_per_10cm, script.rounds_per_10cm));
  return ["Gauge planned", [...new Set(planned)].join(", and ")];
}

/**
 * @param {Unit} unit
 * @param {number} [stitches] over 10 cm
 * @param {number} [rounds] over 10 cm, where they were counted
 */
function gaugeWords(unit, stitches, rounds) {
  const parts = [
    ...(stitches ? [`${inUnit(stitches, "gauge", unit)} stitches`] : []),
    ...(rounds ? [`${inUnit(rounds, "gauge", unit)} rounds`] : []),
  ];
  return `${parts.join(" and ")} over ${unit === "in" ? "4 in" : "10 cm"}`;
}

/**
 * @param {number} value metric
 * @param {import("../../lib/units.js").Kind} kind
 * @param {Unit} unit
 */
function inUnit(value, kind, unit) {
  return convert(String(Math.round(value * 10) / 10), kind, "cm", unit);
}

const place = element("div");
place.id = "finish";
byId("note").after(place);
