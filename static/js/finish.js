/** A finished sock and a finished pair: a small celebration, and a summary worth keeping. */

import { colourOf } from "./chart-row.js";
import { hours, number } from "./far.js";
import { element, listOf } from "./panel.js";
import { askPast } from "./past.js";
import { scriptOf, stitchesOf } from "./script.js";
import { byId } from "./view.js";

/** @typedef {import("./later.js").Page} Page */
/** @typedef {import("./logbook.js").Sock} Sock */
/** @typedef {import("./script.js").Script} Script */

const SOCK = "M-4 0V19Q-4 27 4 27H14";

/**
 * @param {Page} page
 * @param {Sock[]} socks those that are finished, and told of together
 */
export async function celebrate(page, socks) {
  if (byId("finish").dataset.for === socks.join()) return;
  byId("finish").dataset.for = socks.join();
  const past = await askPast(page).catch(() => null);
  const scripts = socks.map((sock) => scriptOf(page.data(), sock));
  const stitches = scripts.flatMap(stitchesOf).reduce((sum, count) => sum + count, 0);
  byId("finish").replaceChildren(line(scripts), listOf([
    ["Rounds", number(scripts.reduce((sum, { total }) => sum + total, 0))],
    ["Stitches", number(stitches)],
    ["At the needles", past?.knitted && socks.length === 2 ? `about ${hours(past.knitted)}` : null],
    ["Yarn", yarnWords(scripts)],
    gaugeOf(page.data().learned, scripts),
  ]));
}

/** The knitter has gone back into a sock. */
export function celebrateNoMore() {
  byId("finish").replaceChildren();
  delete byId("finish").dataset.for;
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

/** What the plan reckons that these socks took of each yarn. @param {Script[]} scripts */
function yarnWords(scripts) {
  const told = (scripts[0].yarns ?? []).map(({ key, name }) => {
    const metres = scripts.map(({ yarns }) => yarns?.find((yarn) => yarn.key === key)?.metres ?? 0);
    return { name: name || `yarn ${key}`, metres: Math.round(metres.reduce((sum, more) => sum + more, 0)) };
  });
  return told.filter(({ metres }) => metres).map(({ name, metres }) => `${name}: about ${number(metres)} m`).join(", ");
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
