/** The row of the knitter's own gauges in the plan form: each fills in what was counted before with its yarn. */

import { dayWords } from "../lib/days.js";
import { byId, element } from "../lib/dom.js";
import { forgetGauge, listGauges } from "../pair/gauges.js";
import { actionButton } from "../lib/sheet.js";
import { typeInto } from "./type-into.js";
import { chosenUnit } from "./unit-switch.js";
import { convert } from "../lib/units.js";

/** @typedef {import("../pair/gauges.js").Learned} Learned */
/** @typedef {import("../pair/gauges.js").Found} Found */
/** @typedef {import("../lib/units.js").Unit} Unit */

/** @param {HTMLFormElement} form */
export function offerGauges(form) {
  for (const unit of form.querySelectorAll("[name=unit]")) unit.addEventListener("change", () => showGauges(form));
  showGauges(form);
}

/** @param {HTMLFormElement} form */
function showGauges(form) {
  const gauges = listGauges();
  byId("gauges").hidden = gauges.length === 0;
  byId("gauges-kept").replaceChildren(...gauges.map((gauge) => itemOf(form, gauge)));
}

/** @param {HTMLFormElement} form @param {Learned} gauge */
function itemOf(form, gauge) {
  const name = titleOf(gauge);
  const fills = actionButton(`${name}: ${saidOf(gauge, chosenUnit(form))}`, () => fill(form, gauge));
  const forgets = actionButton("Forget", () => forget(form, gauge));
  forgets.classList.add("quiet");
  forgets.setAttribute("aria-label", `Forget ${name}`);
  return element("li", fills, forgets);
}

/** @param {HTMLFormElement} form @param {Learned} gauge */
function fill(form, gauge) {
  const unit = chosenUnit(form);
  const typed = {
    stitches: over(gauge.stitches, unit),
    rounds: gauge.rounds ? over(gauge.rounds, unit) : "",
    basis: "measured",
    needle_mm: String(gauge.needle_mm),
    yarn_name: gauge.yarn,
  };
  for (const [field, value] of Object.entries(typed)) if (form.elements.namedItem(field)) typeInto(form, field, value);
  const besides = form.elements.namedItem("needle_mm") ? ", the needle and the yarn" : "";
  tell(`Filled in: the gauge${besides} of ${titleOf(gauge)}.`);
}

/** @param {HTMLFormElement} form @param {Learned} gauge */
function forget(form, gauge) {
  forgetGauge(gauge, true);
  showGauges(form);
  tell(`${titleOf(gauge)} is forgotten. What is typed in stays.`, () => {
    forgetGauge(gauge, false);
    showGauges(form);
  });
}

/**
 * @param {string} sentence
 * @param {() => void} [undo]
 */
function tell(sentence, undo) {
  byId("gauges-note").hidden = false;
  byId("gauges-said").textContent = sentence;
  const back = byId("gauges-undo");
  back.hidden = !undo;
  back.onclick = () => {
    undo?.();
    tell("As it was before.");
  };
}

/** @param {Learned} gauge */
function titleOf({ yarn, needle_mm }) {
  return `${yarn || "a yarn without a name"} on ${needle_mm} mm`;
}

/**
 * "31.2 stitches and 43 rounds (3 checks, the newest on Mon 3 Nov 2025)"
 * @param {Learned} gauge
 * @param {Unit} unit
 */
function saidOf({ stitches, rounds, checks, at }, unit) {
  const counts = [`${over(stitches, unit)} stitches`, ...(rounds ? [`${over(rounds, unit)} rounds`] : [])];
  const made = `${checks} check${checks === 1 ? "," : "s, the newest"} on ${dayWords(new Date(at))}`;
  return `${counts.join(" and ")} (${made})`;
}

/** A number over 10 cm as it is typed: to a tenth, over 4 in on an inch tape. @param {Found} found @param {Unit} unit */
function over({ per_10cm }, unit) {
  return convert(String(Math.round(per_10cm * 10) / 10), "gauge", "cm", unit);
}
