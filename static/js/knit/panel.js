/** A sheet over the tape and the round. It never keeps a tap from counting, and a count folds it in. */

import { byId, element } from "../lib/dom.js";
import { takeAway } from "./view.js";

/** @type {HTMLElement | null} */
let open = null;
/** @type {HTMLElement | null} */
let actionButton = null;

/**
 * Opens one, in place of another; answers with it.
 * @param {string} title
 * @param {HTMLElement | null} by the button that was pressed for it: the focus then goes to its heading
 * @param {(Node | string)[]} nodes
 */
export function openPanel(title, by, ...nodes) {
  closePanel();
  const heading = element("h2", title);
  heading.id = "panel-title";
  const out = element("button", "Go on");
  out.className = "button";
  out.type = "button";
  out.addEventListener("click", closePanel);
  open = element("section", heading, ...nodes, element("p", out));
  open.className = "panel";
  open.setAttribute("aria-labelledby", heading.id);
  byId("reading").before(open);
  actionButton = by;
  by?.setAttribute("aria-expanded", "true");
  heading.tabIndex = -1;
  if (by) heading.focus();
  return open;
}

export function closePanel() {
  takeAway(open);
  open = null;
  actionButton?.setAttribute("aria-expanded", "false");
}

document.addEventListener("keydown", ({ key }) => key === "Escape" && closePanel());

/**
 * What there is to say, under its names.
 * @param {[string, string | null | undefined][]} items what there is nothing to say of is left out
 */
export function listOf(items) {
  const list = element("dl");
  for (const [name, words] of items) if (words) list.append(element("dt", name), element("dd", words));
  return list;
}
