/**
 * Registers the service worker once the page has been drawn, so that the next start needs no network.
 * A new version that is waiting takes over here, at the start of a page, and never under a running count.
 */

/** Milliseconds after loading in which a page has the processor and the database to itself. */
const ITS_OWN = 300;
/** Milliseconds until the page has loaded what it needs: a worker that is answering cannot be replaced cleanly. */
const QUIET = 1000;

// What was done is said once, and not again when the page is loaded again.
const here = new URL(location.href);
const did = here.searchParams.get("did");
if (did !== null) {
  document.body.dataset.did = did; // for the knit page, which may be one that was kept
  here.searchParams.delete("did");
  history.replaceState(history.state, "", here);
}

if ("serviceWorker" in navigator) {
  if (new URLSearchParams(location.search).has("no-worker")) unregister();
  else onceOpen(register);
} else {
  onceOpen(keepUp);
}

/** @param {() => void} job */
function onceOpen(job) {
  const later = () => setTimeout(job, ITS_OWN);
  if (document.readyState === "complete") later();
  else addEventListener("load", later, { once: true });
}

async function register() {
  try {
    const registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
    setTimeout(() => registration.waiting?.postMessage("take over"), QUIET);
    keepUp(await navigator.serviceWorker.ready);
  } catch {
    return; // refused by the browser's settings: the page then works while it stays open
  }
}

/**
 * What is not there yet for times without network, and counts that wait for one.
 * @param {ServiceWorkerRegistration} [registration]
 */
async function keepUp(registration) {
  const behind = await import("../pair/background-sync.js").catch(() => null);
  if (!behind) return; // no network just now, and it is not kept here: the next page makes up for it
  addEventListener("online", behind.sendAll);
  await behind.sendAll();
  await behind.keepPairs(registration?.active);
}

/** The way out should a worker ever misbehave: open any page with ?no-worker. */
async function unregister() {
  const registrations = await navigator.serviceWorker.getRegistrations();
  await Promise.all(registrations.map((registration) => registration.unregister()));
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith("tapeline-")).map((name) => caches.delete(name)));
}
