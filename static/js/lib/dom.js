/** Elements of a page: found by their ids, or made with what is in them. Words go in as text, never as markup. */

/**
 * An element that the page has, by its id.
 * @template {HTMLElement} T
 * @param {string} id
 * @returns {T}
 */
export function byId(id) {
  return /** @type {T} */ (document.getElementById(id));
}

/**
 * @template {keyof HTMLElementTagNameMap} Name
 * @param {Name} name
 * @param {(Node | string)[]} nodes
 * @returns {HTMLElementTagNameMap[Name]}
 */
export function element(name, ...nodes) {
  const made = document.createElement(name);
  made.append(...nodes);
  return made;
}

/**
 * @template {keyof SVGElementTagNameMap} Name
 * @param {Name} name
 * @param {Record<string, string | number>} attributes
 * @param {(Node | string)[]} nodes
 * @returns {SVGElementTagNameMap[Name]}
 */
export function svg(name, attributes, ...nodes) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.append(...nodes);
  return made;
}
