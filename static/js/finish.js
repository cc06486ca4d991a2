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
    [scripts.some(({ revision }) => revision > 1) ? "Gauge found" : "Gauge", gaugeWords(scripts)],
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
    const colour = script.yarns?.[0]?.colour;
    if (colour) sock.setAttribute("stroke", colourOf(script.yarns ?? [], 0));
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

/** @param {Script[]} scripts */
function gaugeWords(scripts) {
  const all = scripts.map(({ rounds_per_10cm: rounds }) => `${Math.round(rounds * 10) / 10}`);
  return `${[...new Set(all)].join(" and ")} rounds over 10 cm`;
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
