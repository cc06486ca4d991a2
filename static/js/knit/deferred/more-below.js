/** The mark over the count row for as long as the round has more to read below it. */

import { byId } from "../../lib/dom.js";

/** CSS px that may be hidden without a word among them: the air below the round. */
const AIR = 4;

export function markMoreBelow() {
  addEventListener("scroll", mark, { passive: true });
  new ResizeObserver(mark).observe(byId("main"));
}

function mark() {
  const below = document.documentElement.scrollHeight - innerHeight - scrollY;
  byId("main").classList.toggle("more", below > AIR);
}
