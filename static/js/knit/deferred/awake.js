/** Keeps the screen on while the knit page is in sight, where the browser can; elsewhere nothing happens. */

export function stayAwake() {
  request();
  document.addEventListener("visibilitychange", request);
}

async function request() {
  if (document.visibilityState !== "visible" || !("wakeLock" in navigator)) return;
  try {
    await navigator.wakeLock.request("screen");
  } catch {
    return; // a low battery refuses it
  }
}
