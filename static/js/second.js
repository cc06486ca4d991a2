/** Before sock two is cast on: that sock one was changed, and where to choose what that means for this one. */

/** @typedef {import("./db.js").PairRecord} PairRecord */

/** @type {HTMLElement | null} */
let shown = null;

/**
 * Show the choice while sock two waits for its cast-on; take it away otherwise.
 * @param {PairRecord} record
 * @param {boolean} changed whether sock one was changed while it was knitted
 */
export function showSecond({ link, sock, round }, changed) {
  const wanted = changed && sock === 2 && !round[2];
  if (wanted === Boolean(shown)) return;
  shown?.remove();
  shown = wanted ? panel(link) : null;
  if (shown) document.querySelector(".round")?.before(shown);
}

/** @param {string} link */
function panel(link) {
  const made = document.createElement("section");
  made.className = "apart";
  made.setAttribute("aria-labelledby", "second-title");
  const title = document.createElement("h2");
  title.id = "second-title";
  title.textContent = "Sock two";
  const why = document.createElement("p");
  why.textContent = "Sock one was changed while it was knitted. This one can be its twin, or better, or as first planned.";
  const choice = document.createElement("p");
  const lead = document.createElement("a");
  lead.className = "button";
  lead.href = `/pair/${link}/second`;
  lead.textContent = "Choose how to knit it";
  choice.append(lead);
  made.append(title, why, choice);
  return made;
}
