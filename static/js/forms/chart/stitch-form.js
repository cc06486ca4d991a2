/** Rows of stitches in a form: their chart to draw on, for who asks for it. Which words are which stitches, the server knows. */

import { typeInto } from "../type-into.js";

/** @typedef {Parameters<typeof import("./stitch-craft.js").stitchCraft>[1]} ReadRows */

const PAUSE = 300; // ms without a key before the server is asked
const NOT_NOW = "The rows are drawn as soon as the server can be reached.";

/** @param {HTMLFormElement} form */
export function offerStitchDrawing(form) {
  const text = /** @type {HTMLTextAreaElement} */ (form.elements.namedItem("pattern_rows"));
  const place = /** @type {HTMLElement} */ (document.getElementById("stitch-editor"));
  const fold = /** @type {HTMLDetailsElement} */ (place.closest("details"));
  const said = /** @type {HTMLElement} */ (fold.querySelector("[data-said]"));
  let opened = false;
  fold.hidden = false;
  fold.addEventListener("toggle", () => fold.open && open());
  offerReadyRows(form, text);

  async function open() {
    if (opened) return;
    opened = true;
    try {
      await openEditor(place, text, rowsReader(form, place));
      said.textContent = "";
    } catch {
      opened = false;
      said.textContent = "The chart needs the server once. Type the rows, or fold this and open it again later.";
    }
  }
}

/**
 * @param {HTMLElement} place
 * @param {HTMLTextAreaElement} text
 * @param {ReadRows} read
 */
async function openEditor(place, text, read) {
  const [{ ChartEditor }, { stitchCraft }, answer] = await Promise.all([
    import("./chart-editor.js"),
    import("./stitch-craft.js"),
    fetch(place.dataset.from ?? ""),
  ]);
  /** @type {import("./stitch-edit.js").Stitch[]} */
  const drawn = await answer.json();
  const stitches = Object.fromEntries(drawn.map((stitch) => [stitch.name, stitch]));
  await new ChartEditor(place, text, stitchCraft(stitches, read)).open();
}

/**
 * Reads typed rows by the server's words; a question that a later one has overtaken is answered with null.
 * @param {HTMLFormElement} form
 * @param {HTMLElement} place
 * @returns {ReadRows}
 */
function rowsReader(form, place) {
  let asking = new AbortController();
  return async (typed) => {
    asking.abort();
    asking = new AbortController();
    const { signal } = asking;
    if (!place.hidden) await new Promise((go) => setTimeout(go, PAUSE));
    if (signal.aborted) return null;
    const headers = { "X-CSRFToken": String(new FormData(form).get("csrf_token")) };
    const body = new URLSearchParams({ pattern_rows: typed });
    try {
      const answer = await fetch(place.dataset.from ?? "", { method: "POST", body, signal, headers });
      return answer.ok ? await answer.json() : { rows: null, wrong: NOT_NOW };
    } catch {
      return signal.aborted ? null : { rows: null, wrong: NOT_NOW };
    }
  };
}

/**
 * A pattern that is ready as the beginning of rows of one's own, as long as that overwrites none that were typed.
 * @param {HTMLFormElement} form
 * @param {HTMLTextAreaElement} text
 */
function offerReadyRows(form, text) {
  const chosen = /** @type {HTMLSelectElement} */ (form.elements.namedItem("stitch_pattern"));
  const button = /** @type {HTMLButtonElement} */ (document.getElementById("change-ready"));
  const own = chosen.options[chosen.options.length - 1];
  const ready = [...chosen.options].map((option) => option.dataset.rows);
  text.addEventListener("input", show);
  show();

  button.addEventListener("click", () => {
    typeInto(form, text.name, chosen.selectedOptions[0].dataset.rows ?? "");
    chosen.value = own.value;
    chosen.dispatchEvent(new Event("change", { bubbles: true }));
    text.focus();
  });

  function show() {
    button.hidden = text.value.trim() !== "" && !ready.includes(text.value);
  }
}
