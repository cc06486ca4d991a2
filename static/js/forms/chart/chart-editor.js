/**
 * The chart to draw on, with a finger, a mouse or keys. The truth is the text in the textarea: whatever is drawn is
 * written there at once, and what is typed there is drawn.
 */

import { element } from "../../lib/dom.js";
import { between, cleared, flipped, longFloats, mirrored, paint, resized, floatsInWords } from "./chart-edit.js";
import { drawChart, showSquare } from "./chart-grid.js";
import { ChartHand } from "./chart-hand.js";
import { LEAST_STITCHES, MOST_ROWS, MOST_STITCHES, readChart, showChart } from "./chart-text.js";

/** @typedef {import("./chart-grid.js").Yarn} Yarn */
/** @typedef {import("./chart-edit.js").Cell} Cell */
/** @typedef {import("./chart-edit.js").Rows} Rows */

const FIRST = Array(8).fill("A".repeat(8)); // an empty chart to begin with
const STEPS_BACK = 200;
const FLOATS_NAMED = 5; // more would push the chart off the screen

export class ChartEditor {
  /** @type {string[]} */
  #before = [];
  #rows = FIRST;
  #yarn = "B";
  /** @type {Cell | null} */
  #last = null;

  /**
   * @param {HTMLElement} place
   * @param {HTMLTextAreaElement} text
   * @param {() => Yarn[]} yarns
   * @param {() => number | null} gauge stitches over 10 cm, as far as they are typed
   */
  constructor(place, text, yarns, gauge) {
    this.place = place;
    this.text = text;
    this.yarns = yarns;
    this.gauge = gauge;
    this.paper = /** @type {SVGElement} */ (place.querySelector(".chart"));
    this.scroll = this.#part(".chart-scroll");
    this.hand = new ChartHand(/** @type {SVGElement} */ (place.querySelector(".chart-hand")), {
      begin: (cell) => this.#begin(cell),
      drag: (cell) => this.#drag(cell),
      key: (cell, key) => this.#key(cell, key),
    });
    place.addEventListener("click", ({ target }) => this.#press(/** @type {Element} */ (target)));
    place.addEventListener("change", ({ target }) => this.#resize(/** @type {HTMLInputElement} */ (target)));
    place.addEventListener("keydown", (event) => this.#enter(event));
    text.addEventListener("input", () => this.#typed());
    if (!text.value.trim()) this.#write(FIRST);
    this.#rows = readChart(text.value) ?? FIRST;
    place.hidden = false;
    this.show();
  }

  /** Draws everything again, as after a change of yarns or gauge. */
  show() {
    const yarns = this.yarns();
    if (!yarns.some(({ key }) => key === this.#yarn)) this.#yarn = yarns[0].key;
    this.#field("width").value = String(this.#rows[0].length);
    this.#field("height").value = String(this.#rows.length);
    this.#showChart();
    const { scrollWidth, clientWidth, clientHeight } = this.scroll;
    const small = scrollWidth <= clientWidth && clientHeight < innerHeight / 2;
    this.#part("[data-act=move]").hidden = small;
    this.#move(this.hand.moving && !small);
  }

  #showChart() {
    const rows = this.#rows;
    const yarns = this.yarns();
    const floats = longFloats(rows, this.gauge());
    drawChart(this.paper, { width: rows[0].length, rows }, yarns, { floats });
    this.hand.fit(rows[0].length, rows.length);
    this.hand.name(rows, yarns);
    this.#part(".undo-chart").toggleAttribute("disabled", !this.#before.length);
    const sentences = floatsInWords(floats);
    const more = sentences.length - FLOATS_NAMED;
    const lines = sentences.slice(0, FLOATS_NAMED).concat(more > 0 ? [`And ${more} more like these.`] : []);
    const list = this.#part(".floats ul");
    for (const each of this.#part(".floats").children) each.toggleAttribute("hidden", !sentences.length);
    if ([...list.children].map((line) => line.textContent).join() !== lines.join()) {
      list.replaceChildren(...lines.map((line) => element("li", line)));
    }
  }

  /** @param {Yarn[]} yarns */
  #showPalette(yarns) {
    for (const button of /** @type {NodeListOf<HTMLElement>} */ (this.place.querySelectorAll("[data-yarn]"))) {
      const yarn = yarns.find(({ key }) => key === button.dataset.yarn);
      button.hidden = !yarn;
      button.setAttribute("aria-pressed", String(yarn?.key === this.#yarn && !this.hand.moving));
      const name = button.querySelector(".yarn-name");
      if (yarn && name) name.textContent = yarn.name;
      const square = /** @type {SVGElement | null} */ (button.querySelector(".yarn-square"));
      if (yarn && square) showSquare(square, yarn);
    }
  }

  /** @param {Cell} cell */
  #begin(cell) {
    this.#keep();
    this.#last = cell;
    this.#drag(cell);
  }

  /** @param {Cell} cell */
  #drag(cell) {
    this.#put(paint(this.#rows, between(this.#last ?? cell, cell), this.#yarn));
    this.#last = cell;
  }

  /**
   * @param {Cell} cell
   * @param {string} key
   */
  #key(cell, key) {
    if (key === "undo") return this.#undo();
    const yarn = key === "paint" ? this.#yarn : key;
    if (!this.yarns().some((each) => each.key === yarn)) return undefined;
    this.#keep();
    this.#put(paint(this.#rows, [cell], yarn));
    return this.#say(this.hand.nameOf(cell));
  }

  /** @param {Element} target */
  #press(target) {
    const button = /** @type {HTMLElement | null} */ (target.closest("button"));
    if (!button) return;
    const { yarn, step, act } = button.dataset;
    if (act === "move") this.#move(!this.hand.moving);
    if (yarn) {
      this.#yarn = yarn;
      this.#move(false);
    }
    if (step) {
      const [name, by] = step.split(" ");
      const field = this.#field(name);
      field.value = String(Number(field.value) + Number(by));
      this.#resize(field);
    }
    if (act === "undo") this.#undo();
    const change = { mirror: mirrored, flip: flipped, clear: cleared }[act ?? ""];
    if (change) {
      this.#keep();
      this.#put(change(this.#rows));
      this.#say({ mirror: "Mirrored.", flip: "Flipped.", clear: "Cleared." }[act ?? ""] ?? "");
    }
  }

  /** A finger on a large chart draws, or moves it. @param {boolean} moves */
  #move(moves) {
    this.hand.moving = moves;
    this.#part("[data-act=move]").setAttribute("aria-pressed", String(moves));
    this.#showPalette(this.yarns());
  }

  /** Enter in a size gives the chart this size; it would send the whole form. @param {KeyboardEvent} event */
  #enter(event) {
    const field = /** @type {HTMLElement} */ (event.target);
    if (event.key !== "Enter" || !field.dataset.size) return;
    event.preventDefault();
    field.blur();
  }

  /** @param {HTMLInputElement} field */
  #resize(field) {
    if (!field.dataset.size) return;
    const width = within(this.#field("width").value, LEAST_STITCHES, MOST_STITCHES, this.#rows[0].length);
    const height = within(this.#field("height").value, 1, MOST_ROWS, this.#rows.length);
    this.#keep();
    this.#put(resized(this.#rows, width, height));
    this.show();
  }

  #typed() {
    const rows = readChart(this.text.value);
    if (!rows || showChart(rows) === showChart(this.#rows)) return;
    this.#keep();
    this.#rows = rows;
    this.show();
  }

  #keep() {
    this.#before = [...this.#before, showChart(this.#rows)].slice(-STEPS_BACK);
  }

  #undo() {
    // A stroke over squares that had its colour already has changed nothing.
    while (this.#before.at(-1) === showChart(this.#rows)) this.#before.pop();
    const rows = readChart(this.#before.pop() ?? "");
    if (!rows) return;
    this.#rows = rows;
    this.#write(rows);
    this.show();
    this.#say("Undone.");
  }

  /** @param {Rows} rows */
  #put(rows) {
    if (showChart(rows) === showChart(this.#rows)) return;
    this.#rows = [...rows];
    this.#write(rows);
    this.#showChart();
  }

  /** @param {Rows} rows */
  #write(rows) {
    this.text.value = showChart(rows);
    this.text.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** @param {string} words for screen readers */
  #say(words) {
    this.#part(".chart-said").textContent = words;
  }

  /** @param {string} name @returns {HTMLInputElement} */
  #field(name) {
    return /** @type {HTMLInputElement} */ (this.#part(`[data-size=${name}]`));
  }

  /** @param {string} selector @returns {HTMLElement} */
  #part(selector) {
    return /** @type {HTMLElement} */ (this.place.querySelector(selector));
  }
}

/**
 * @param {string} typed
 * @param {number} least
 * @param {number} most
 * @param {number} otherwise
 */
function within(typed, least, most, otherwise) {
  const number = Math.round(Number(typed));
  return typed.trim() && Number.isFinite(number) ? Math.min(most, Math.max(least, number)) : otherwise;
}
