/** The plan page: keeps the pair in this browser's list, and shows where it is. */

import { rememberPair } from "../pair/pairs-here.js";

const [, , link] = location.pathname.split("/");
const title = document.getElementById("pair-title")?.textContent ?? "";
const [one, two] = document.querySelectorAll("progress");

// Private windows of some browsers have no database; the page is complete without the list.
rememberPair({ link, title, totals: [one.max, two.max] }).then(showPlaces, () => undefined);

/**
 * A page kept from an earlier time is behind what was counted here since.
 * @param {import("../pair/db.js").PairRecord} record
 */
function showPlaces({ round, after }) {
  const known = Number(document.querySelector(".socks")?.getAttribute("data-cursor"));
  if (after < known) return;
  [one, two].forEach((bar, index) => {
    bar.value = Math.min(index ? round[2] : round[1], bar.max);
    const said = bar.previousElementSibling;
    if (said) said.textContent = `Sock ${index + 1}: ${bar.value} of ${bar.max} rounds`;
  });
}

// At a desk the code is what a phone is pointed at; on the phone it is of no use.
const carry = document.getElementById("carry");
carry?.toggleAttribute("open", matchMedia("(min-width: 46rem)").matches);
