/** The answer to what was done on another page that led here: one line, until the next round is counted. */

import { element } from "../../lib/dom.js";
import { byId, takeAway, tell } from "../view.js";

/** The page has the words for each thing that can be done, and its script the one that was (companion/web/answers.py). */
export function sayWhatWasDone() {
  const words = document.body.getAttribute(`data-did-${document.body.dataset.did}`);
  if (!words) return;
  const line = element("p", words);
  line.id = "what-was-done";
  tell(words);
  byId("round").append(line);
}

export function hideWhatWasDone() {
  takeAway(document.getElementById("what-was-done"));
}
