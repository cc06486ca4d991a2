/** A finished sock and a finished pair: a small celebration, and a summary worth keeping. */

import { colourOf } from "./chart-row.js";
import { hours, number } from "./far.js";
import { element, listOf } from "./panel.js";
import { askPast } from "./past.js";
import { scriptOf, stitchesOf } from "./script.js";
import { fetchPair } from "./sync.js";
import { byId } from "./view.js";

/** @typedef {import("./later.js").Page} Page */
/** @typedef {import("./logbook.js").Sock} Sock */
/** @typedef {import("./script.js").PairData} PairData */
/** @typedef {import("./script.js").Script} Script */

const SOCK = "M-4 0V19Q-4 27 4 27H14";

/** Tells of the finished socks again, as the server knows them. */
let anew = async () => {};
// Weighed or measured at the end, it is told of as soon as the server has it.
document.addEventListener("sent", () => anew());

/**
 * @param {Page} page
 * @param {Sock[]} socks those that are finished, and told of together
 */
export async function celebrate(page, socks) {
  const which = socks.join();
  if (byId("finish").dataset.for === which) return;
  byId("finish").dataset.for = which;
  const past = await askPast(page).catch(() => null);
  const told = () => byId("finish").dataset.for === which;
  if (!told()) return;
  byId("finish").replaceChildren(line(socks.map((sock) => scriptOf(page.data(), sock))), summary(page.data(), socks, past));
  anew = async () => {
    const data = await fetchPair(page.link).catch(() => null);
    if (data && told()) byId("finish").lastElementChild?.replaceWith(summary(data, socks, past));
  };
  anew();
}

/** The knitter has gone back into a sock. */
export function celebrateNoMore() {
  byId("finish").replaceChildren();
  delete byId("finish").dataset.for;
  anew = async () => {};
}

/**
 * @param {PairData} data
 * @param {Sock[]} socks
 * @param {import("./pace.js").Past | null} past
 */
function summary(data, socks, past) {
  const scripts = socks.map((sock) => scriptOf(data, sock));
  return listOf([
    ["Rounds", number(sum(scripts.map(({ total }) => total)))],
    ["Stitches", number(sum(scripts.flatMap(stitchesOf)))],
    ["At the needles", past?.knitted && socks.length === 2 ? `about ${hours(past.knitted)}` : null],
    ["Yarn", yarnWords(data, socks)],
    gaugeOf(data.learned, scripts),
  ]);
}

/** Socks on a washing line. @param {Script[]} scripts */
function line(scripts) {
  const drawing = svg("svg", { viewBox: "0 0 120 46", class: "washing", "aria-hidden": "true" });
  drawing.append(svg("path", { class: "line", d: "M0 4Q60 14 120 4" }));
  scripts.forEach((script, index) => {
    const x = scripts.length === 1 ? 56 : 38 + index * 40;
    const hung = svg("g", { transform: `translate(${x} 9)` });
    const sock = svg("path", { d: SOCK, class: "hung" });
    const yarns = script.yarns ?? [];
    const main = Math.max(0, yarns.findIndex(({ key }) => key === script.main));
    if (yarns.length > 1 || yarns[main]?.colour) sock.setAttribute("stroke", colourOf(yarns, main));
    hung.append(sock, svg("path", { class: "peg", d: "M-4 -4v8" }));
    drawing.append(hung);
  });
  return drawing;
}

/**
 * What these socks took of each yarn: grams where it was weighed, else the metres that the plan reckons.
 * @param {PairData} data
 * @param {Sock[]} socks
 */
function yarnWords(data, socks) {
  const told = (scriptOf(data, socks[0]).yarns ?? []).map(({ key, name }) => {
    const grams = sum(socks.map((sock) => data.yarn_used?.[key]?.[sock - 1] ?? 0));
    const metres = sum(socks.map((sock) => scriptOf(data, sock).yarns?.find((yarn) => yarn.key === key)?.metres ?? 0));
    const taken = grams ? `${number(grams)} g, by weighing` : metres && `${number(metres)} m, by the plan`;
    return taken && `${name || `yarn ${key}`}: about ${taken}`;
  });
  return told.filter(Boolean).join("; ");
}

/** To the next whole. @param {number[]} values */
function sum(values) {
  return Math.round(values.reduce((all, value) => all + value, 0));
}

/**
 * The gauge that checks found; where nothing was counted, that of the plan.
 * @param {import("./gauges.js").Learned | null | undefined} learned
 * @param {Script[]} scripts
 * @returns {[string, string]} its name, and the gauge
 */
function gaugeOf(learned, scripts) {
  if (learned) return ["Gauge found", gaugeWords(learned.stitches.per_10cm, learned.rounds?.per_10cm)];
  const planned = scripts.map((script) => gaugeWords(script.stitches_per_10cm, script.rounds_per_10cm));
  return ["Gauge planned", [...new Set(planned)].join(", and ")];
}

/**
 * @param {number} [stitches] over 10 cm
 * @param {number} [rounds] over 10 cm, where they were counted
 */
function gaugeWords(stitches, rounds) {
  const told = [...(stitches ? [`${oneDecimal(stitches)} stitches`] : []), ...(rounds ? [`${oneDecimal(rounds)} rounds`] : [])];
  return `${told.join(" and ")} over 10 cm`;
}

/** @param {number} value */
function oneDecimal(value) {
  return String(Math.round(value * 10) / 10);
}

/**
 * @param {string} name
 * @param {Record<string, string>} attributes
 */
function svg(name, attributes) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

const place = element("div");
place.id = "finish";
byId("note").after(place);
