/**
 * The plan form, and those of a design and of its followers, which have some of its parts: units, folded groups
 * that say what is in force, kept feet and gauges, and stitch counts as soon as they are known.
 */

import { followColour } from "./chart/chart-form.js";
import { offerStitchDrawing } from "./chart/stitch-form.js";
import { followChoices } from "./choices.js";
import { followErrors } from "../lib/errors.js";
import { offerFeet } from "./feet-row.js";
import { offerGauges } from "./gauge-row.js";
import { followHeights } from "./leg-heights.js";
import { followPartYarns } from "./part-yarns.js";
import { followShoeSize } from "./shoe-size.js";
import { CM } from "../lib/measure.js";
import { parseNumber } from "../lib/units.js";
import { mirrorParts } from "../lib/mirrored-parts.js";
import { chosenUnit, followUnit } from "./unit-switch.js";
import { runtimeHere } from "../phone/runtime.js";

const shown = /** @type {HTMLFormElement} */ (document.getElementById("plan-form"));

follow(shown);
// A phone that calculates answers the form of a new pair by itself where the server cannot be asked.
if (shown.getAttribute("action") === "/plan") answerHere();

/** @param {HTMLFormElement} form */
function follow(form) {
  mirrorParts(form);
  followErrors(form);
  followUnit(form);
  if (document.getElementById("fill-from-shoe")) followShoeSize(form);
  if (document.getElementById("feet")) offerFeet(form);
  if (document.getElementById("gauges")) offerGauges(form);
  if (document.getElementById("leg_height")) followHeights(form);
  if (document.getElementById("chart-editor")) followColour(form);
  if (document.getElementById("stitch-editor")) offerStitchDrawing(form);
  if (document.getElementById("part-yarns-chosen")) followPartYarns(form);
  for (const show of [showInForce, showPictures, askForTheCalf]) {
    form.addEventListener("input", () => show(form));
    form.addEventListener("change", () => show(form));
    show(form);
  }
  const choices = document.getElementById("choices");
  if (choices) followChoices(form, choices, /** @type {HTMLElement} */ (document.getElementById("choices-said")));
}

async function answerHere() {
  if (!(await runtimeHere().catch(() => null))) return;
  const { answerWithoutNetwork } = await import("../phone/plan-here.js");
  answerWithoutNetwork(shown, follow);
}

/** @param {HTMLFormElement} form */
function showInForce(form) {
  const typed = new FormData(form);
  for (const echo of /** @type {NodeListOf<HTMLElement>} */ (form.querySelectorAll("[data-echo]"))) {
    const chosen = form.querySelector(`[name="${echo.dataset.echo}"]:checked`);
    const value = chosen?.getAttribute("data-says") ?? String(typed.get(echo.dataset.echo ?? "") ?? "").trim();
    const { otherwise = "", otherwiseIn = otherwise } = echo.dataset;
    echo.textContent = value || (chosenUnit(form) === "in" ? otherwiseIn : otherwise);
    const unit = form.querySelector(`[data-echo-unit="${echo.dataset.echo}"]`);
    if (unit instanceof HTMLElement) unit.hidden = !value;
  }
}

/** Beside a list what is chosen in it looks like. @param {HTMLFormElement} form */
function showPictures(form) {
  for (const picture of /** @type {NodeListOf<SVGElement>} */ (form.querySelectorAll("[data-follows]"))) {
    const field = picture.dataset.follows ?? "";
    const word = typedIn(form, field).replaceAll(" ", "-");
    picture.firstElementChild?.setAttribute("href", `#way-${field}-${word}`);
  }
}

/** The calf is asked for where the leg reaches it, or may by the yarn, and nothing was measured there. @param {HTMLFormElement} form */
function askForTheCalf(form) {
  const asks = document.getElementById("up-the-calf");
  if (!asks) return;
  const length = parseNumber(typedIn(form, "leg_length")) ?? 0;
  const byYarn = typedIn(form, "direction") === "toe-up" && typedIn(form, "leg_until") === "half the yarn";
  const foot = parseNumber(typedIn(form, "foot_length")) || Infinity;
  const from = Math.min(Number(asks.dataset.fromCm), foot * CM[chosenUnit(form)]);
  const long = byYarn || length * CM[chosenUnit(form)] > from;
  asks.hidden = !long || typedIn(form, "leg_circumference") !== "";
}

/** @param {HTMLFormElement} form @param {string} name */
function typedIn(form, name) {
  return String(new FormData(form).get(name) ?? "").trim();
}
