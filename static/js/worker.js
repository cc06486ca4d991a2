/**
 * Registers the service worker once the page has been drawn, so that the next start needs no network.
 * A new version that is waiting takes over here, at the start of a page, and never under a running count.
 */

/** Milliseconds until the page has loaded what it needs: a worker that is answering cannot be replaced cleanly. */
const QUIET = 1000;

if ("serviceWorker" in navigator) {
  if (new URLSearchParams(location.search).has("no-worker")) unregister();
  else if (document.readyState === "complete") register();
  else addEventListener("load", register, { once: true });
}

async function register() {
  try {
    const registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
    setTimeout(() => registration.waiting?.postMessage("take over"), QUIET);
  } catch {
    return; // refused by the browser's settings: the page then works while it stays open
  }
}

/** The way out should a worker ever misbehave: open any page with ?no-worker. */
async function unregister() {
  const registrations = await navigator.serviceWorker.getRegistrations();
  await Promise.all(registrations.map((registration) => registration.unregister()));
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith("tapeline-")).map((name) => caches.delete(name)));
}
