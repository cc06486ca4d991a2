/**
 * A chart to draw on, with a finger, a mouse or keys. The truth is the text in the textarea: whatever is drawn is
 * written there at once, and what is typed there is drawn. What it is a chart of, its craft knows.
 */

import { element } from "../../lib/dom.js";
import { between } from "./chart-edit.js";
import { ChartHand } from "./chart-hand.js";

/** @typedef {import("./chart-edit.js").Cell} Cell */
/**
 * What is drawn: how its rows are read, written, painted and shown. Rows are never changed, but others are made.
 * @template Rows
 * @typedef {object} Craft
 * @property {Rows} first the empty chart to begin with
 * @property {string} tool what is painted with at first
 * @property {[number, number]} stitches the fewest and the most of a repeat
 * @property {[number, number]} rounds
 * @property {Record<string, { name: string, change: (rows: Rows) => Rows, said: string }>} changes by their words in the page
 * @property {(text: string) => Reading<Rows> | Promise<Reading<Rows> | null>} read null where the text is no longer asked for
 * @property {(rows: Rows) => string} write
 * @property {(rows: Rows) => [number, number]} size stitches and rounds
 * @property {(rows: Rows, width: number, height: number) => Rows} resized
 * @property {(rows: Rows, cells: readonly Cell[], tool: string) => Rows} paint
 * @property {(paper: SVGElement, rows: Rows) => void} draw
 * @property {(rows: Rows, cell: Cell) => string} nameOf what is in a square
 * @property {(rows: Rows) => { lines: string[], hint: string }} remarks what to mind, and what helps
 * @property {(key: string) => string | undefined} toolOf the tool that a key of the keyboard stands for
 * @property {(box: HTMLElement, tool: string | null, rows: Rows) => string} showPalette gives back the tool in hand
 */
/**
 * @template Rows
 * @typedef {object} Reading
 * @property {Rows | null} rows null where the text makes no chart
 * @property {string} [wrong] why not
 */

const STEPS_BACK = 200;
const MOST_REMARKS = 5; // more would push the chart off the screen

/** @template Rows */
export class ChartEditor {
  /** @type {{ rows: Rows, text: string }[]} */
  #before = [];
  /** @type {Rows} */
  #rows;
  #text = ""; // that the rows were read from, or written as
  #wrong = "";
  #tool = "";
  /** @type {Cell | null} */
  #last = null;

  /**
   * @param {HTMLElement} place is filled with what the page's template has
   * @param {HTMLTextAreaElement} text
   * @param {Craft<Rows>} craft
   */
  constructor(place, text, craft) {
    this.place = place;
    this.text = text;
    this.craft = craft;
    this.#rows = craft.first;
    this.#tool = craft.tool;
    const parts = /** @type {HTMLTemplateElement} */ (document.getElementById("chart-editor-parts"));
    place.append(parts.content.cloneNode(true));
    this.paper = /** @type {SVGElement} */ (place.querySelector(".chart"));
    this.scroll = this.#part(".chart-scroll");
    this.#part(".chart-hand").setAttribute("aria-describedby", place.querySelector(".hint")?.id ?? "");
    for (const [act, { name }] of Object.entries(craft.changes)) {
      const button = Object.assign(element("button", name), { type: "button", className: "button" });
      button.dataset.act = act;
      this.#part(".actions").append(button);
    }
    this.hand = new ChartHand(/** @type {SVGElement} */ (place.querySelector(".chart-hand")), {
      begin: (cell) => this.#begin(cell),
      drag: (cell) => this.#drag(cell),
      key: (cell, key) => this.#key(cell, key),
    });
    place.addEventListener("click", ({ target }) => this.#press(/** @type {Element} */ (target)));
    place.addEventListener("change", ({ target }) => this.#resize(/** @type {HTMLInputElement} */ (target)));
    place.addEventListener("keydown", (event) => this.#enter(event));
    text.addEventListener("input", () => this.#typed());
  }

  /** Draws what stands in the text, or begins an empty chart there. */
  async open() {
    if (!this.text.value.trim()) this.#write(this.#rows);
    else await this.#read(this.text.value);
    this.place.hidden = false;
    this.show();
  }

  /** Draws everything again, as after a change of yarns or gauge. */
  show() {
    const [width, height] = this.craft.size(this.#rows);
    this.#field("width").value = String(width);
    this.#field("height").value = String(height);
    this.#showChart();
    const { scrollWidth, clientWidth, clientHeight } = this.scroll;
    const small = scrollWidth <= clientWidth && clientHeight < innerHeight / 2;
    this.#part("[data-act=move]").hidden = small;
    this.#move(this.hand.moving && !small);
  }

  #showChart() {
    this.craft.draw(this.paper, this.#rows);
    this.hand.fit(...this.craft.size(this.#rows));
    this.hand.name((cell) => this.craft.nameOf(this.#rows, cell));
    this.#part(".undo-chart").toggleAttribute("disabled", !this.#before.length);
    this.#showRemarks();
  }

  #showRemarks() {
    const { lines, hint } = this.#wrong ? { lines: [this.#wrong], hint: "" } : this.craft.remarks(this.#rows);
    const more = lines.length - MOST_REMARKS;
    const shown = lines.slice(0, MOST_REMARKS).concat(more > 0 ? [`And ${more} more like these.`] : []);
    const list = this.#part(".remarks ul");
    list.hidden = !shown.length;
    if ([...list.children].map((line) => line.textContent).join() !== shown.join()) {
      list.replaceChildren(...shown.map((line) => element("li", line)));
    }
    const below = this.#part(".remarks .hint");
    below.hidden = !hint;
    if (below.textContent !== hint) below.textContent = hint;
  }

  /** @param {Cell} cell */
  #begin(cell) {
    this.#keep();
    this.#last = cell;
    this.#drag(cell);
  }

  /** @param {Cell} cell */
  #drag(cell) {
    this.#put(this.craft.paint(this.#rows, between(this.#last ?? cell, cell), this.#tool));
    this.#last = cell;
  }

  /**
   * Whether a key of the keyboard is one of the chart's.
   * @param {Cell} cell
   * @param {string} key
   */
  #key(cell, key) {
    if (key === "undo") {
      this.#undo();
      return true;
    }
    const tool = key === "paint" ? this.#tool : this.craft.toolOf(key);
    if (!tool) return false;
    this.#keep();
    this.#put(this.craft.paint(this.#rows, [cell], tool));
    this.#say(this.hand.nameOf(cell));
    return true;
  }

  /** @param {Element} target */
  #press(target) {
    const button = /** @type {HTMLElement | null} */ (target.closest("button"));
    if (!button) return;
    const { tool, step, act = "" } = button.dataset;
    if (act === "move") this.#move(!this.hand.moving);
    if (tool) {
      this.#tool = tool;
      this.#move(false);
    }
    if (step) {
      const [name, by] = step.split(" ");
      const field = this.#field(name);
      field.value = String(Number(field.value) + Number(by));
      this.#resize(field);
    }
    if (act === "undo") this.#undo();
    const change = this.craft.changes[act];
    if (change) {
      this.#keep();
      this.#put(change.change(this.#rows));
      this.#say(change.said);
    }
  }

  /** A finger on a large chart draws, or moves it. @param {boolean} moves */
  #move(moves) {
    this.hand.moving = moves;
    this.#part("[data-act=move]").setAttribute("aria-pressed", String(moves));
    this.#tool =
      this.craft.showPalette(this.#part(".chart-tools .palette"), moves ? null : this.#tool, this.#rows) || this.#tool;
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
    const [wide, high] = this.craft.size(this.#rows);
    const width = within(this.#field("width").value, this.craft.stitches, wide);
    const height = within(this.#field("height").value, this.craft.rounds, high);
    this.#keep();
    this.#put(this.craft.resized(this.#rows, width, height));
    this.show();
  }

  async #typed() {
    const typed = this.text.value;
    if (typed === this.#text) return; // it was drawn
    const before = { rows: this.#rows, text: this.#text };
    if (!(await this.#read(typed))) return;
    if (this.craft.write(before.rows) !== this.craft.write(this.#rows)) this.#remember(before);
    this.show();
  }

  /** Whether a text was read that still stands there, or is found wrong. @param {string} typed */
  async #read(typed) {
    const reading = await this.craft.read(typed);
    if (!reading || typed !== this.text.value) return false;
    this.#wrong = reading.wrong ?? "";
    if (reading.rows) {
      this.#rows = reading.rows;
      this.#text = typed;
    }
    return true;
  }

  /** Keeps what is about to be drawn over, also words that could not be drawn. */
  #keep() {
    this.#remember({ rows: this.#rows, text: this.text.value });
  }

  /** @param {{ rows: Rows, text: string }} step */
  #remember(step) {
    this.#before = [...this.#before, step].slice(-STEPS_BACK);
  }

  #undo() {
    // A stroke over squares that were like this already has changed nothing.
    while (this.#before.at(-1)?.text === this.text.value) this.#before.pop();
    const step = this.#before.pop();
    if (!step) return;
    this.#rows = step.rows;
    if (step.text === this.craft.write(step.rows)) this.#write(step.rows);
    else this.#fill(step.text);
    this.show();
    this.#say("Undone.");
  }

  /** @param {Rows} rows */
  #put(rows) {
    if (this.craft.write(rows) === this.craft.write(this.#rows)) return;
    this.#rows = rows;
    this.#write(rows);
    this.#showChart();
  }

  /** @param {Rows} rows */
  #write(rows) {
    this.#text = this.craft.write(rows);
    this.#wrong = "";
    this.#fill(this.#text);
  }

  /** @param {string} text */
  #fill(text) {
    this.text.value = text;
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
 * @param {[number, number]} limits
 * @param {number} otherwise
 */
function within(typed, [least, most], otherwise) {
  const number = Math.round(Number(typed));
  return typed.trim() && Number.isFinite(number) ? Math.min(most, Math.max(least, number)) : otherwise;
}
