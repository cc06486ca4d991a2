/**
 * Runs before the first page is drawn, so that somebody who is back never sees the newcomer's page: the browser's
 * database answers too late for that, and what was drawn would have to move.
 */

try {
  document.documentElement.classList.toggle("back", localStorage.getItem("tapeline-back") !== null);
} catch {
  // Storage may be forbidden: everybody is new then.
}
