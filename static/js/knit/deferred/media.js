/** The buttons of headphones and of a locked screen, where the browser hands them on. */

/** @type {MediaSessionAction[]} */
const COUNTING = ["nexttrack", "play", "pause"];

/**
 * @param {() => void} count
 * @param {() => void} undo
 */
export function listenToMedia(count, undo) {
  COUNTING.forEach((action) => take(action, count));
  take("previoustrack", undo);
}

/**
 * @param {MediaSessionAction} action
 * @param {() => void} handler
 */
function take(action, handler) {
  try {
    navigator.mediaSession?.setActionHandler(action, handler);
  } catch {
    return; // an action that this browser does not know
  }
}
