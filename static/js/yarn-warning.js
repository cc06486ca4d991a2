/** Yarn that will not reach, told on the knit page: when it is opened, and at the start of each part. */

/** Where the page was opened. @type {number | null} */
let opened = null;

/**
 * @param {string} link
 * @param {string[]} warnings
 * @param {import("./script.js").Script} script
 * @param {number} place rounds done
 */
export function warnOfYarn(link, warnings, script, place) {
  opened ??= place;
  document.getElementById("yarn-warning")?.remove();
  const now = place === opened || script.sections.some(({ first }) => first === place);
  if (!warnings.length || !now || place === script.total) return;
  const told = document.createElement("p");
  told.id = "yarn-warning";
  const lead = document.createElement("a");
  lead.href = `/pair/${link}/yarn`;
  lead.textContent = warnings.join(" ");
  told.append(lead);
  document.getElementById("leader")?.after(told);
}
