/** Colour in the plan form: yarns as they are typed, the chart's editor when it is wanted, and the sock in its colours. */

import { byId } from "../../lib/dom.js";
import { readChart, readStripes } from "./chart-text.js";
import { showOnSock } from "./chart-preview.js";
import { parseNumber } from "../../lib/units.js";

/** @typedef {import("./chart-grid.js").Yarn} Yarn */
/** @typedef {import("./chart-editor.js").ChartEditor<import("./chart-edit.js").Rows>} ChartEditor */

const KEYS = ["A", "B", "C", "D"];
const EASE = { plain: "10", stranded: "5" }; // percent, as the planning takes it
const GAUGE_CM = { cm: 10, in: 10.16 }; // what a gauge is counted over

/** @param {HTMLFormElement} form */
export function followColour(form) {
  const place = byId("chart-editor");
  /** @type {Promise<ChartEditor> | null} */
  let editor = null;

  form.addEventListener("change", ({ target }) => {
    if (/** @type {HTMLInputElement} */ (target).name === "colour_pattern") start();
  });
  form.addEventListener("input", ({ target }) => {
    const { name } = /** @type {HTMLInputElement} */ (target);
    // What happens in the editor it has shown already.
    if (name !== "chart" && !place.contains(/** @type {Node} */ (target))) editor?.then((opened) => opened.show());
    if (name === "stripes") start();
    else showColours(form);
  });
  start();

  function start() {
    if (isOfColours(form) && valueOf(form, "yarn_count") === "1") chooseTwoYarns(form);
    if (valueOf(form, "colour_pattern") === "chart") editor ??= openEditor(form, place);
    showColours(form);
  }
}

/** Only a knitter who draws needs what it takes. @param {HTMLFormElement} form @param {HTMLElement} place */
async function openEditor(form, place) {
  const [{ ChartEditor }, { colourCraft }] = await Promise.all([
    import("./chart-editor.js"),
    import("./colour-craft.js"),
  ]);
  const text = /** @type {HTMLTextAreaElement} */ (form.elements.namedItem("chart"));
  const details = text.closest("details");
  if (details && text.getAttribute("aria-invalid") !== "true") details.open = false;
  const craft = colourCraft(
    () => yarnsIn(form),
    () => gaugeIn(form),
  );
  const opened = new ChartEditor(place, text, craft);
  await opened.open();
  return opened;
}

/** @param {HTMLFormElement} form */
function chooseTwoYarns(form) {
  const two = /** @type {HTMLInputElement} */ (form.querySelector('[name="yarn_count"][value="2"]'));
  two.checked = true;
  two.dispatchEvent(new Event("input", { bubbles: true }));
}

/** The small sock in its colours, and the ease that they need. @param {HTMLFormElement} form */
function showColours(form) {
  const rows = rowsIn(form);
  const preview = byId("chart-preview");
  preview.hidden = !rows;
  if (rows) {
    const sock = {
      fromToe: valueOf(form, "direction") === "toe-up",
      instep: valueOf(form, "foot_pattern") !== "plain",
    };
    showOnSock(/** @type {SVGElement} */ (preview.querySelector("svg")), rows, yarnsIn(form), sock);
  }
  showEase(form, rows?.some((row) => new Set(row).size > 1) ? EASE.stranded : EASE.plain);
}

/** The ease that is taken where none is typed. @param {HTMLFormElement} form @param {string} percent */
function showEase(form, percent) {
  /** @type {HTMLInputElement} */ (form.elements.namedItem("ease_percent")).placeholder = percent;
  const echo = /** @type {HTMLElement} */ (form.querySelector('[data-echo="ease_percent"]'));
  echo.dataset.otherwise = percent;
  if (!valueOf(form, "ease_percent").trim()) echo.textContent = percent;
}

/** Whether the pattern is one of several colours. @param {HTMLFormElement} form */
function isOfColours(form) {
  const kind = valueOf(form, "colour_pattern");
  return ["stripes", "chart"].includes(kind) || (kind === "stitches" && readStripes(valueOf(form, "stripes")) !== null);
}

/** The rows of the pattern's colours, null where it has none. @param {HTMLFormElement} form */
function rowsIn(form) {
  const kind = valueOf(form, "colour_pattern");
  if (kind === "chart") return readChart(valueOf(form, "chart"));
  return kind === "none" ? null : readStripes(valueOf(form, "stripes"));
}

/** @param {HTMLFormElement} form @returns {Yarn[]} */
function yarnsIn(form) {
  return KEYS.slice(0, Number(valueOf(form, "yarn_count")) || 1).map((key) => {
    const after = key === "A" ? "" : `_${key.toLowerCase()}`;
    return { key, name: valueOf(form, `yarn_name${after}`).trim(), colour: valueOf(form, `yarn_colour${after}`) };
  });
}

/** @param {HTMLFormElement} form @returns {number | null} stitches over 10 cm */
function gaugeIn(form) {
  const typed = parseNumber(valueOf(form, "stitches"));
  return typed && (typed * GAUGE_CM.cm) / GAUGE_CM[valueOf(form, "unit") === "in" ? "in" : "cm"];
}

/** @param {HTMLFormElement} form @param {string} name @returns {string} */
function valueOf(form, name) {
  return String(new FormData(form).get(name) ?? "");
}
