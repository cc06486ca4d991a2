/**
 * The answer to what was done on another page that led here: one line, until the next round is counted. To knit on as it
 * is needs no network, and is written down here, into this browser's logbook.
 */

import { byId, element } from "../../lib/dom.js";
import { keepRemark } from "../../pair/remarks.js";
import { takeAway, tell } from "../view.js";

/** By the word in the address that led here; to the last leads the form that imports. */
const WORDS = Object.entries({
  accepted: "The plan was changed as you chose. The menu takes it back.",
  "as-it-is": "Nothing was changed: the sock goes on as planned. What you wrote down is kept.",
  left: "Nothing was changed: the sock goes on as planned. What you wrote down is kept.",
  "sock-two": "Sock two is knitted as you chose. Until its cast-on you can choose again.",
  "taken-back": "The change was taken back: the sock goes on by the plan before it.",
  "counts-taken-in": "What the copy has counted is in this pair now.",
});

/** @param {import("../deferred.js").Page} page */
export function sayWhatWasDone(page) {
  const [, words] = WORDS.find(([did]) => did === document.body.dataset.did) ?? [];
  if (!words) return;
  const line = element("p", words);
  line.id = "what-was-done";
  tell(words);
  byId("round").append(line);
  if (document.body.dataset.did === "as-it-is")
    keepRemark(page.link, "decision", { way: "as it is" }).then(page.remarked, () =>
      tell("That was not written down."),
    );
}

export function hideWhatWasDone() {
  takeAway(document.getElementById("what-was-done"));
}
