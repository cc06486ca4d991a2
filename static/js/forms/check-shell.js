/** Fills the gauge check that is kept for times without network with the pair and the place that it is opened for.
 * Until it is filled in its button is locked: its form does not know yet where to go. */

import { loadData, loadPair, savePairData } from "../pair/db.js";
import { scriptOf, sectionRound } from "../pair/instructions.js";
import { fetchPair } from "../pair/sync.js";

/**
 * Fails where the pair is not in this browser and the server cannot be asked for it.
 * The address says which sock and place, as in `?sock=1&round=85`. A form that the server made says so itself.
 * @param {HTMLFormElement} form
 * @param {string} link
 */
export async function fillIn(form, link) {
  const shell = "shell" in form.dataset;
  const [known, kept] = await Promise.all([loadData(link), loadPair(link)]);
  if (!known && !shell) return;
  // The kept page is shown too where the server is slow, and then the pair may never have been here.
  const data = known ?? (await fetchPair(link));
  const { record } = known ? kept : await savePairData(link, data);
  if (!record) return;
  const asked = new URLSearchParams(location.search);
  const sock = (asked.get("sock") ?? String(record.sock)) === "2" ? 2 : 1;
  const script = scriptOf(data, sock);
  form.dataset.needle = String(script.needle_mm ?? "");
  form.dataset.stitches = String(script.stitches_per_10cm ?? "");
  form.dataset.rounds = String(script.rounds_per_10cm);
  const round = Math.min(Number(asked.get("round") ?? record.round[sock]), script.total);
  tellFabric(form, script.pattern?.to_plain, placeIn(script, round));
  if (!shell) return;
  form.action = `/pair/${link}/check`;
  set(form, "sock", String(sock));
  set(form, "round", String(round));
  tellRepeat(form, script, round);
  if (data.unit === "in") takeInches(form);
  const place = round < script.total ? sectionRound(script, round) : "finished";
  /** @type {HTMLElement} */ (document.getElementById("check-place")).textContent =
    `${data.title}: Sock ${sock}, ${place[0].toLowerCase()}${place.slice(1)}`;
  document.querySelector(".back a")?.setAttribute("href", `/pair/${link}/knit`);
  /** @type {HTMLButtonElement} */ (form.querySelector("button.primary")).disabled = false;
}

/**
 * Where a sock in a stitch pattern is counted on after so many rounds.
 * @param {import("../pair/instructions.js").Script} script
 * @param {number} round
 */
function placeIn({ pattern }, round) {
  return pattern?.counted_on?.filter(({ from }) => from <= round).at(-1);
}

/**
 * Say where to count, ask on which of two fabrics it was, and keep what that has of stitches and rounds for each plain one.
 * @param {HTMLFormElement} form
 * @param {[number, number] | undefined} toPlain
 * @param {import("../pair/instructions.js").CountedOn | undefined} place
 */
function tellFabric(form, toPlain, place) {
  if (!toPlain || !place) return;
  const [stitches, rounds] = place.in_pattern ? toPlain : [1, 1];
  Object.assign(form.dataset, { toPlainStitches: stitches, toPlainRounds: rounds });
  if (place.words) /** @type {HTMLElement} */ (document.getElementById("count-where")).textContent = place.words;
  const choice = /** @type {HTMLElement} */ (document.getElementById("counted-on"));
  choice.hidden = !place.asks;
  choice.addEventListener("change", () => {
    form.dataset.toPlainStitches = String(onPattern(form) ? toPlain[0] : stitches);
  });
}

/** Whether it is said to be counted on the pattern beside plain fabric. @param {HTMLFormElement} form */
export function onPattern(form) {
  return new FormData(form).get("fabric") === "pattern";
}

/** As companion/planning/gauge/repeat.py has it. @param {HTMLFormElement} form @param {import("../pair/instructions.js").Script} script @param {number} round */
function tellRepeat(form, script, round) {
  if (placeIn(script, round)?.asks) return;
  const charted = script.rounds.slice(0, round).some((number) => script.instructions[number].chart_row);
  const { chart, pattern } = script;
  const repeat = chart ? { width: chart.width, height: chart.rows.length } : pattern;
  if (!repeat || !charted) return;
  form.dataset.repeatStitches = String(repeat.width);
  form.dataset.repeatRounds = String(repeat.height);
}

/** The page was made for centimetres. @param {HTMLFormElement} form */
function takeInches(form) {
  set(form, "unit", "in");
  for (const field of /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("input[data-in]"))) {
    field.value = field.dataset.in ?? "";
  }
}

/**
 * @param {HTMLFormElement} form
 * @param {string} name
 * @param {string} value
 */
function set(form, name, value) {
  /** @type {HTMLInputElement | RadioNodeList} */ (form.elements.namedItem(name)).value = value;
}
