/**
 * The plan form, and those of a design and of its followers, which have some of its parts: units, folded groups
 * that say what is in force, kept feet and gauges, and stitch counts as soon as they are known.
 */

import { followColour } from "./chart-form.js";
import { followChoices } from "./choices.js";
import { followErrors } from "./errors.js";
import { offerFeet } from "./feet-row.js";
import { offerGauges } from "./gauge-row.js";
import { followShoeSize } from "./shoe-size.js";
import { followUnit } from "./unit-switch.js";

const form = /** @type {HTMLFormElement} */ (document.getElementById("plan-form"));

followErrors(form);
followUnit(form);
if (document.getElementById("fill-from-shoe")) followShoeSize(form);
if (document.getElementById("feet")) offerFeet(form);
if (document.getElementById("gauges")) offerGauges(form);
if (document.getElementById("chart-editor")) followColour(form);
form.addEventListener("input", showInForce);
form.addEventListener("change", showInForce);
showInForce();
const choices = document.getElementById("choices");
if (choices) followChoices(form, choices, /** @type {HTMLElement} */ (document.getElementById("choices-said")));

function showInForce() {
  const typed = new FormData(form);
  for (const echo of /** @type {NodeListOf<HTMLElement>} */ (form.querySelectorAll("[data-echo]"))) {
    const chosen = form.querySelector(`[name="${echo.dataset.echo}"]:checked`);
    const value = chosen?.getAttribute("data-says") ?? String(typed.get(echo.dataset.echo ?? "") ?? "").trim();
    echo.textContent = value || (echo.dataset.otherwise ?? "");
    const unit = form.querySelector(`[data-echo-unit="${echo.dataset.echo}"]`);
    if (unit instanceof HTMLElement) unit.hidden = !value;
  }
}
