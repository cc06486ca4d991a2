/** What counts a round: the big button, the keyboard, a presenter remote or a foot pedal. */

const COUNT_KEYS = [" ", "Enter", "ArrowRight", "ArrowDown", "PageDown", "MediaTrackNext", "MediaPlayPause"];
const UNDO_KEYS = ["ArrowLeft", "ArrowUp", "PageUp", "Backspace", "MediaTrackPrevious"];
/** They scroll a page that is too long for the screen, as one in large text may be. */
const SCROLL_KEYS = ["ArrowDown", "ArrowUp"];
/** Milliseconds within which the click of a finger's tap follows the finger's lifting. */
const ECHO = 400;
/** Milliseconds after which a finger that still rests on the button is shown to press it (ours). */
const PRESS = 80;

/**
 * Takes two taps that are too near to each other, by the setting of this phone, once.
 * @param {() => void} count
 * @param {() => void} doubleTapped called instead for the second
 * @returns {(event: Event) => void}
 */
export function swallowDoubleTaps(count, doubleTapped) {
  let counted = -Infinity;
  return ({ timeStamp }) => {
    if (timeStamp - counted < Number(document.documentElement.dataset.apart)) return doubleTapped();
    counted = timeStamp;
    count();
  };
}

/**
 * A tap counts when the finger is lifted inside the button. A click alone will not do: browsers send none when
 * the thumb slides a little, and the hand that holds the needles does. Clicks from the keyboard and from screen
 * readers come without a finger.
 * @param {HTMLElement} button
 * @param {(event: Event) => void} count
 */
export function onTap(button, count) {
  let lifted = -Infinity;
  button.addEventListener("pointerup", (event) => {
    const { left, right, top, bottom } = button.getBoundingClientRect();
    const inside = event.clientX >= left && event.clientX <= right && event.clientY >= top && event.clientY <= bottom;
    if (!event.isPrimary || event.button !== 0 || !inside) return;
    lifted = event.timeStamp;
    count(event);
  });
  // The browser's own press and click would have a frame drawn before the round, which then waits for the next one.
  for (const type of ["touchstart", "touchend"]) button.addEventListener(type, keepBack, { passive: false });
  showPress(button);
  button.addEventListener("click", (event) => {
    if (event.detail === 0 || event.timeStamp - lifted > ECHO) count(event);
  });
}

/**
 * Keep the browser from acting on a finger. On a page that is zoomed in, two fingers must find the way out.
 * @param {Event} event
 */
function keepBack(event) {
  const zoomed = (visualViewport?.scale ?? 1) > 1.01;
  if (event.cancelable && !(zoomed && event.type === "touchstart")) event.preventDefault();
}

/**
 * Mark what is round the button while a finger rests on it. Let go, it is unmarked when the round has had its frame.
 * @param {HTMLElement} button
 */
function showPress(button) {
  let timer = 0;
  for (const type of ["touchstart", "touchend", "touchcancel"]) {
    button.addEventListener(type, () => {
      clearTimeout(timer);
      timer = setTimeout(() => button.parentElement?.classList.toggle("pressed", type === "touchstart"), PRESS);
    });
  }
}

/**
 * Keys count anywhere on the page, but a focused control keeps the keys that it needs itself.
 * @param {(event: Event) => void} count
 * @param {() => void} undo
 */
export function onKeys(count, undo) {
  document.addEventListener("keydown", (event) => {
    const counts = COUNT_KEYS.includes(event.key);
    if (!counts && !UNDO_KEYS.includes(event.key)) return;
    if (event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey) return;
    const target = /** @type {HTMLElement} */ (event.target);
    if (target.closest("input, select, textarea")) return;
    if (SCROLL_KEYS.includes(event.key) && document.documentElement.scrollHeight > innerHeight) return;
    // Held down, a key repeats; a round is only counted when it is pressed again.
    if (event.repeat) return event.preventDefault();
    const presses = event.key === " " || event.key === "Enter";
    if (presses && target.closest("a, button, summary")) return;
    event.preventDefault();
    if (counts) count(event);
    else undo();
  });
}
