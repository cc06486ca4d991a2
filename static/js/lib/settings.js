/** How this phone likes the knit page; kept here, since another phone lies in another hand. */

/** `text`: size in percent. `side`: the thumb that counts. `apart`: milliseconds after which a second tap counts, 200 to
 * 1000: a nearer one is a jerk of the thumb or a pedal that bounces (the usual is ours). `click`: whether a count is heard.
 * `aloud`: whether reminders are. `repeats`: whether rounds in lace and cables are gone through repeat by repeat. `knits`:
 * whether from left to right.
 * @typedef {{text: string, side: string, apart: string, click: string, aloud: string, repeats: string, knits: string}} Settings */

const KEY = "tapeline-hand";

/** @type {Settings} */
const USUAL = { text: "100", side: "right", apart: "200", click: "", aloud: "", repeats: "", knits: "" };

/** @returns {Settings} */
export function settings() {
  try {
    return { ...USUAL, ...JSON.parse(localStorage.getItem(KEY) ?? "{}") };
  } catch {
    return USUAL; // storage may be forbidden, or what is in it may be damaged
  }
}

/** @param {Settings} changed */
export function keepSettings(changed) {
  try {
    localStorage.setItem(KEY, JSON.stringify(changed));
  } catch {
    return; // forbidden: they hold as long as the page is open
  }
}

/** Px from which text is large, whether by this setting or by the browser's own: half as large again as usual. */
const LARGE = 24;

/** Let the style sheet and the hand know. @param {Settings} settings */
export function applySettings({ text, side, apart, knits }) {
  const root = document.documentElement;
  Object.assign(root.dataset, { text, side, apart, knits });
  root.toggleAttribute("data-large", parseFloat(getComputedStyle(root).fontSize) >= LARGE);
}
