/** Answers without a network: the app's own files from one cache a version, pages from the network first. */

const VERSION = {{ version | tojson }};
const SHELL = {{ shell | tojson }};
const PREFIX = "tapeline-";
const CACHE = PREFIX + VERSION;
/** Milliseconds after which a page that is kept here is shown instead of waited for. */
const PATIENCE = 3000;

addEventListener("install", (event) => {
  event.waitUntil(fill());
});

addEventListener("activate", (event) => {
  event.waitUntil(tidy());
});

addEventListener("message", (event) => {
  if (event.data === "take over") skipWaiting();
});

addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (url.searchParams.has("no-worker")) event.waitUntil(registration.unregister());
  else if (request.mode === "navigate") event.respondWith(page(request, url.pathname));
  else if (url.pathname.startsWith("/static/")) event.respondWith(file(request));
});

async function fill() {
  const cache = await caches.open(CACHE);
  await cache.addAll(SHELL.map((url) => new Request(url, { cache: "no-cache" })));
}

async function tidy() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await clients.claim();
}

/** The version is part of a file's address, so a kept file is never the wrong one. */
async function file(request) {
  return (await kept(request.url)) ?? fetch(request);
}

async function page(request, path) {
  const copy = await kept(/^\/pair\/[\w-]+\/knit$/.test(path) ? "/knit" : path);
  try {
    const answer = fetch(request);
    const response = await (copy ? Promise.race([answer, silence()]) : answer);
    if (response.status < 500 || !copy) return response;
  } catch {
    // No network, or one that does not answer: what is kept here will do.
  }
  return copy ?? needsNetwork(path);
}

function kept(url) {
  return caches.match(url, { cacheName: CACHE, ignoreVary: true });
}

function silence() {
  return new Promise((_, reject) => setTimeout(reject, PATIENCE));
}

function needsNetwork(path) {
  const pair = path.match(/^\/pair\/[\w-]+/)?.[0];
  const knit = pair ? `<p><a href="${pair}/knit">Go on knitting this pair</a></p>` : "";
  const text = `<!DOCTYPE html><html lang="en"><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark">
<title>No network · Tapeline</title><h1>This page needs a network</h1>
<p>There is none at the moment. Pairs that were opened here can be knitted without.</p>
${knit}<p><a href="/">Your pairs</a></p></html>`;
  return new Response(text, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
}
