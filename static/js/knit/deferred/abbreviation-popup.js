/** What an abbreviation means, shown when its word in the round is touched. It never counts. */

import { byId, element } from "../../lib/dom.js";
import { mirrored } from "../../lib/mirrored.js";

/** Letters and figures; a cable is named by three words that belong together, "2/1 RPC". */
const WORD = /\d\/\d [RL]P?C|\w+/g;

/** @type {HTMLElement | null} */
let popup = null;

/** @param {() => Record<string, string>} meanings */
export function listenToWords(meanings) {
  byId("words").addEventListener("click", ({ clientX, clientY }) => {
    const found = meaningsOf(wordAt(clientX, clientY), meanings());
    hideMeaning();
    if (found.length) tell(found);
  });
  document.addEventListener("keydown", ({ key }) => key === "Escape" && hideMeaning());
}

export function hideMeaning() {
  popup?.remove();
  popup = null;
}

/** @param {[string, string][]} found */
function tell(found) {
  popup = element("dl", ...found.flatMap(([short, long]) => [element("dt", short), element("dd", mirrored(long))]));
  popup.className = "meaning";
  popup.setAttribute("aria-label", "Meaning");
  popup.addEventListener("click", hideMeaning);
  byId("done").before(popup);
}

/**
 * The letters and figures that stand at a point of the page.
 * @param {number} x
 * @param {number} y
 */
function wordAt(x, y) {
  const [node, offset] = caretAt(x, y);
  if (!(node instanceof Text)) return "";
  const range = new Range();
  range.selectNode(node);
  const { left, right, top, bottom } = range.getBoundingClientRect();
  if (x < left || x > right || y < top || y > bottom) return "";
  const words = node.data.matchAll(WORD);
  return [...words].find(({ 0: word, index }) => index <= offset && offset <= index + word.length)?.[0] ?? "";
}

/**
 * @param {number} x
 * @param {number} y
 * @returns {[Node | null, number]}
 */
function caretAt(x, y) {
  if ("caretPositionFromPoint" in document) {
    const caret = document.caretPositionFromPoint(x, y);
    return [caret?.offsetNode ?? null, caret?.offset ?? 0];
  }
  // Safari has only the older one.
  const range = /** @type {any} */ (document).caretRangeFromPoint(x, y);
  return [range?.startContainer ?? null, range?.startOffset ?? 0];
}

/**
 * "k2tog" means itself; "k12" and "k1tbl" are k, and k with tbl.
 * @param {string} word
 * @param {Record<string, string>} meanings
 */
function meaningsOf(word, meanings) {
  const parts = word in meanings ? [word] : (word.match(/[a-z]+/gi) ?? []);
  return /** @type {[string, string][]} */ (parts.map((part) => [part, meanings[part]]).filter(([, long]) => long));
}
