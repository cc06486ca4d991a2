/** A sheet over the tape and the round. It never keeps a tap from counting, and a count folds it in. */

import { byId } from "./view.js";

/** @type {HTMLElement | null} */
let open = null;

/**
 * @param {string} title
 * @param {string} way out, on its button
 * @param {(Node | string)[]} nodes
 */
export function openPanel(title, way, ...nodes) {
  closePanel();
  const heading = element("h2", title);
  heading.id = "panel-title";
  const out = element("button", way);
  out.className = "button";
  out.setAttribute("type", "button");
  out.addEventListener("click", () => {
    closePanel();
    byId("done").focus();
  });
  open = element("section", heading, ...nodes, element("p", out));
  open.className = "panel";
  open.setAttribute("aria-labelledby", heading.id);
  byId("reading").before(open);
}

export function closePanel() {
  open?.remove();
  open = null;
}

document.addEventListener("keydown", ({ key }) => key === "Escape" && closePanel());

/**
 * @param {string} name
 * @param {(Node | string)[]} nodes
 * @returns {HTMLElement}
 */
export function element(name, ...nodes) {
  const made = document.createElement(name);
  made.append(...nodes);
  return made;
}

/**
 * What is told, under its names.
 * @param {[string, string | null | undefined][]} told what there is nothing to say of is left out
 */
export function listOf(told) {
  const list = element("dl");
  for (const [name, words] of told) if (words) list.append(element("dt", name), element("dd", words));
  return list;
}
