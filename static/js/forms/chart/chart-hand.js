/**
 * What a finger, a mouse and keys find over a drawn chart: one element for each square, with its name. It lies over
 * the squares alone, so that a finger beside them scrolls.
 */

import { svg } from "../../lib/dom.js";
import { BELOW, CELL, LEFT, RIGHT } from "./chart-grid.js";

/** @typedef {import("./chart-edit.js").Cell} Cell */
/**
 * @typedef {object} Work
 * @property {(cell: Cell) => void} begin a stroke
 * @property {(cell: Cell) => void} drag
 * @property {(cell: Cell, key: string) => boolean} key a sign on the keyboard, "paint" or "undo"; whether it did something
 */

const LEAST = 1.3; // times CELL: 26 px, above the 24 that WCAG 2.2 asks of targets
const LARGEST = 2; // times CELL: 40 px

/** @type {Record<string, [number, number]>} rounds and columns */
const MOVES = { ArrowUp: [1, 0], ArrowDown: [-1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] };

export class ChartHand {
  /** @type {Element[][]} by round and column */
  #cells = [];
  #width = 0;
  /** Whether a finger moves the chart instead of drawing. */
  #moving = false;
  #ring = ["chart-ring casing", "chart-ring"].map((kind) =>
    svg("rect", { class: kind, width: CELL, height: CELL, visibility: "hidden" }),
  );

  /**
   * @param {SVGElement} layer
   * @param {Work} work
   */
  constructor(layer, work) {
    this.layer = layer;
    let drawing = false;
    layer.addEventListener("pointerdown", (event) => {
      if (event.button !== 0 || !event.isPrimary || this.#moving) return;
      event.preventDefault();
      layer.setPointerCapture(event.pointerId);
      drawing = true;
      const cell = this.#under(event);
      this.#focus(cell);
      work.begin(cell);
    });
    layer.addEventListener("pointermove", (event) => drawing && event.isPrimary && work.drag(this.#under(event)));
    for (const end of ["pointerup", "pointercancel"]) layer.addEventListener(end, () => (drawing = false));
    layer.addEventListener("keydown", (event) => this.#keydown(event, work));
    layer.addEventListener("focusin", ({ target }) => this.#showRing(/** @type {Element} */ (target)));
    layer.addEventListener("focusout", () => this.#ring.forEach((ring) => ring.setAttribute("visibility", "hidden")));
  }

  /**
   * Lies over a chart of this size; does nothing when it does so already.
   * @param {number} width
   * @param {number} height
   */
  fit(width, height) {
    if (this.#width === width && this.#cells.length === height) return;
    const wider = this.#width !== width;
    this.#width = width;
    const [wide, high] = [width * CELL, height * CELL];
    const [allWide, allHigh] = [LEFT + wide + RIGHT, high + BELOW];
    const paper = /** @type {HTMLElement} */ (this.layer.parentElement);
    paper.style.width = `clamp(${allWide * LEAST}px, 100%, ${allWide * LARGEST}px)`;
    this.layer.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    this.layer.style.left = `${(100 * LEFT) / allWide}%`;
    this.layer.style.width = `${(100 * wide) / allWide}%`;
    this.layer.style.height = `${(100 * high) / allHigh}%`;
    const rows = Array.from({ length: height }, (_, round) => row(width, (height - 1 - round) * CELL));
    this.#cells = rows.map((each) => [...each.children]);
    this.#cells[0][width - 1].setAttribute("tabindex", "0"); // the first stitch
    this.layer.replaceChildren(...rows.reverse(), ...this.#ring);
    if (wider) /** @type {HTMLElement} */ (paper.parentElement).scrollLeft = paper.scrollWidth; // where a row begins
  }

  /**
   * Names every square.
   * @param {(cell: Cell) => string} nameOf
   */
  name(nameOf) {
    this.#cells.forEach((cells, round) =>
      cells.forEach((cell, column) => {
        const name = `Round ${round + 1}, stitch ${cells.length - column}: ${nameOf({ round, column })}`;
        if (cell.getAttribute("aria-label") !== name) cell.setAttribute("aria-label", name);
      }),
    );
  }

  get moving() {
    return this.#moving;
  }

  set moving(moves) {
    this.#moving = moves;
    this.layer.classList.toggle("moving", moves);
  }

  /** @param {Cell} cell */
  nameOf({ round, column }) {
    return this.#cells[round][column].getAttribute("aria-label") ?? "";
  }

  /** The square under a pointer, the nearest one when it has left the chart. @param {PointerEvent} event */
  #under(event) {
    const box = this.layer.getBoundingClientRect();
    /** @param {number} share @param {number} count */
    const at = (share, count) => Math.min(count - 1, Math.max(0, Math.floor(share * count)));
    const height = this.#cells.length;
    return {
      round: height - 1 - at((event.clientY - box.top) / box.height, height),
      column: at((event.clientX - box.left) / box.width, this.#width),
    };
  }

  /**
   * @param {KeyboardEvent} event
   * @param {Work} work
   */
  #keydown(event, work) {
    const round = this.#cells.findIndex((cells) => cells.includes(/** @type {Element} */ (event.target)));
    if (round < 0 || event.altKey) return;
    const column = this.#cells[round].indexOf(/** @type {Element} */ (event.target));
    const key = event.key.length === 1 ? event.key.toUpperCase() : event.key;
    const command = event.ctrlKey || event.metaKey;
    if (command && key === "Z") work.key({ round, column }, "undo");
    else if (command) return;
    else if (MOVES[key]) this.#focus({ round: round + MOVES[key][0], column: column + MOVES[key][1] });
    else if (key === "Home") this.#focus({ round, column: 0 });
    else if (key === "End") this.#focus({ round, column: this.#width - 1 });
    else if (key === " " || key === "Enter") work.key({ round, column }, "paint");
    else if (key.length > 1 || !work.key({ round, column }, key)) return;
    event.preventDefault();
  }

  /** Moves the one square that the Tab key comes to. @param {Cell} cell */
  #focus({ round, column }) {
    const cell = this.#cells[round]?.[column];
    if (!cell) return;
    this.layer.querySelector('[tabindex="0"]')?.setAttribute("tabindex", "-1");
    cell.setAttribute("tabindex", "0");
    /** @type {SVGElement} */ (cell).focus({ preventScroll: true });
    cell.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  /** @param {Element} cell */
  #showRing(cell) {
    const shown = cell.matches(":focus-visible");
    for (const ring of this.#ring) {
      for (const side of ["x", "y"]) ring.setAttribute(side, cell.getAttribute(side) ?? "0");
      ring.setAttribute("visibility", shown ? "visible" : "hidden");
    }
  }
}

/**
 * A row of squares without names yet.
 * @param {number} width
 * @param {number} top
 */
function row(width, top) {
  const made = svg("g", { role: "row" });
  for (let column = 0; column < width; column += 1) {
    const square = { x: column * CELL, y: top, width: CELL, height: CELL };
    made.append(svg("rect", { role: "gridcell", tabindex: -1, ...square }));
  }
  return made;
}
