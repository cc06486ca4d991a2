/** Colour in the plan form: yarns as they are typed, the chart's editor when it is wanted, and the sock in its colours. */

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
  const text = /** @type {HTMLTextAreaElement} */ (form.elements.namedItem("chart"));
  const preview = /** @type {HTMLElement} */ (document.getElementById("chart-preview"));
  const place = /** @type {HTMLElement} */ (document.getElementById("chart-editor"));
  /** @type {Promise<ChartEditor> | null} */
  let editor = null;

  form.addEventListener("change", ({ target }) => {
    if (/** @type {HTMLInputElement} */ (target).name === "colour_pattern") start();
  });
  form.addEventListener("input", ({ target }) => {
    // What happens in the editor it has shown already.
    if (target !== text && !place.contains(/** @type {Node} */ (target))) editor?.then((opened) => opened.show());
    if (/** @type {HTMLInputElement} */ (target).name === "stripes") start();
    else show();
  });
  start();

  function start() {
    const kind = valueOf("colour_pattern");
    const colours = ["stripes", "chart"].includes(kind) || (kind === "stitches" && readStripes(valueOf("stripes")));
    if (colours && valueOf("yarn_count") === "1") chooseTwoYarns();
    if (kind === "chart") editor ??= open();
    show();
  }

  /** Only a knitter who draws needs what it takes. */
  async function open() {
    const [{ ChartEditor }, { colourCraft }] = await Promise.all([
      import("./chart-editor.js"),
      import("./colour-craft.js"),
    ]);
    const details = text.closest("details");
    if (details && text.getAttribute("aria-invalid") !== "true") details.open = false;
    const opened = new ChartEditor(place, text, colourCraft(yarns, gauge));
    await opened.open();
    return opened;
  }

  function chooseTwoYarns() {
    const two = /** @type {HTMLInputElement} */ (form.querySelector('[name="yarn_count"][value="2"]'));
    two.checked = true;
    two.dispatchEvent(new Event("input", { bubbles: true }));
  }

  function show() {
    const kind = valueOf("colour_pattern");
    const rows = kind === "chart" ? readChart(text.value) : kind === "none" ? null : readStripes(valueOf("stripes"));
    const sock = {
      fromToe: valueOf("direction") === "toe-up",
      instep: valueOf("foot_pattern") !== "plain",
    };
    preview.hidden = !rows;
    if (rows) showOnSock(/** @type {SVGElement} */ (preview.querySelector("svg")), rows, yarns(), sock);
    const ease = rows?.some((row) => new Set(row).size > 1) ? EASE.stranded : EASE.plain;
    /** @type {HTMLInputElement} */ (form.elements.namedItem("ease_percent")).placeholder = ease;
    const echo = /** @type {HTMLElement} */ (form.querySelector('[data-echo="ease_percent"]'));
    echo.dataset.otherwise = ease;
    if (!valueOf("ease_percent").trim()) echo.textContent = ease;
  }

  /** @returns {Yarn[]} */
  function yarns() {
    return KEYS.slice(0, Number(valueOf("yarn_count")) || 1).map((key) => {
      const after = key === "A" ? "" : `_${key.toLowerCase()}`;
      return { key, name: valueOf(`yarn_name${after}`).trim(), colour: valueOf(`yarn_colour${after}`) };
    });
  }

  /** @returns {number | null} stitches over 10 cm */
  function gauge() {
    const typed = parseNumber(valueOf("stitches"));
    return typed && (typed * GAUGE_CM.cm) / GAUGE_CM[valueOf("unit") === "in" ? "in" : "cm"];
  }

  /** @param {string} name @returns {string} */
  function valueOf(name) {
    return String(new FormData(form).get(name) ?? "");
  }
}
