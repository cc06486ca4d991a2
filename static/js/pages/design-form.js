/** The design form: this computer's time zone, no more empty stages than one, and the designs made here. */

import { element } from "../lib/dom.js";
import { designsHere } from "./designs-here.js";

const zone = /** @type {HTMLSelectElement} */ (document.getElementById("time_zone"));
const stages = /** @type {HTMLElement[]} */ ([...document.querySelectorAll("[data-stage]")]);
const list = document.getElementById("designs-here");

if (list && zone.value === "UTC") {
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  if ([...zone.options].some(({ value }) => value === here)) zone.value = here;
}
showStages();
document.getElementById("stages")?.addEventListener("input", showStages);
if (list) showDesigns(list);

function showStages() {
  const empty = stages.filter((stage) => ![...stage.querySelectorAll("input")].some(({ value }) => value));
  for (const stage of stages) stage.hidden = empty.includes(stage) && stage !== empty[0];
}

/** @param {HTMLElement} place */
function showDesigns(place) {
  const items = designsHere().map(({ link, title }) => {
    const anchor = element("a", title);
    anchor.href = `/design/${encodeURIComponent(link)}`;
    return element("li", anchor);
  });
  place.querySelector("ul")?.replaceChildren(...items);
  place.hidden = !items.length;
}
