/**
 * Answers without a network: the app's own files, and of this browser's pairs the plan, the written pattern, the yarn and
 * the logbook as they were last fetched, from one cache a version, pages from the network first. A page is kept with the files of its
 * own version and never shown with others.
 */

const VERSION = {{ version | tojson }};
const SHELL = {{ shell | tojson }};
const STYLES = SHELL.filter((url) => /\/(base|desk)\.css$/.test(url)).map((url) => `<link rel="stylesheet" href="${url}">`).join("");
const PREFIX = "tapeline-";
const CACHE = PREFIX + VERSION;
/** The plan of a pair, its written pattern, its yarn and its logbook. */
const PLAN = /^\/pair\/[\w-]+(?:\/pattern|\/yarn|\/logbook)?$/;
/** Pages that are kept without a pair, which the browser then fills in. */
const OF_A_PAIR = /^\/pair\/[\w-]+(\/knit|\/check)$/;
/** The form of a new pair, for a phone that calculates: what it needs lies in a cache of its own, under this name when whole. */
const FORM = "/plan";
const CALCULATES = "runtime";
const WHOLE = "/runtime";
/** What the same phone makes anew from all that it knows by now; of other plans and patterns it makes those that are not kept. */
const MADE_HERE = /^\/pair\/[\w-]+\/(?:check\/result|fit|second|yarn|logbook)$/;
/** The page in which it makes them. */
const MADE = "/made-here";
/** Milliseconds after which a page that is kept here is shown instead of waited for. */
const PATIENCE = 3000;
/** The same for a round to knit: all that it needs is here, and what is new comes after it. */
const KNIT_PATIENCE = 1000;

addEventListener("install", (event) => {
  event.waitUntil(fill());
  // Where the browser can, it takes these files from the cache without starting the worker for each of them.
  event.addRoutes?.({ condition: { urlPattern: new URLPattern({ pathname: "/static/*" }) }, source: "cache" });
});

addEventListener("activate", (event) => {
  event.waitUntil(tidy());
});

addEventListener("message", (event) => {
  if (event.data === "take over") skipWaiting();
  // A page whose loading began before this worker was active is not taken over by then.
  else if (event.data?.keep) event.waitUntil(Promise.all([clients.claim(), keepMissing(event.data.keep, event.data.anew)]));
});

addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (url.searchParams.has("no-worker")) event.waitUntil(registration.unregister());
  else if (request.mode === "navigate") event.respondWith(page(event, url));
  else if (/^\/(static|runtime)\/./.test(url.pathname)) event.respondWith(file(request));
});

async function fill() {
  const cache = await caches.open(CACHE);
  await cache.addAll(SHELL.map((url) => new Request(url, { cache: "no-cache" })));
  const others = await Promise.all((await ours()).map(async (name) => (await caches.open(name)).keys()));
  await keepMissing(others.flat().map(({ url }) => new URL(url).pathname).filter((path) => PLAN.test(path) || path === FORM));
}

async function ours() {
  return (await caches.keys()).filter((name) => name.startsWith(PREFIX));
}

/** What is not kept yet, and what may have changed, one after the other: the server may be a small computer. */
async function keepMissing(paths, anew = []) {
  for (const path of new Set(paths)) {
    if (anew.includes(path) || !(await kept(path))) await keep(path, await fetch(path, { cache: "no-cache" }));
  }
}

/** The server may be of a newer version than this worker; then the page goes where that version's files are. */
async function keep(path, response) {
  if (!response.ok) return;
  const [, version] = (await response.clone().text()).match(/\/static\/(\w+)\//) ?? [];
  if (await caches.has(PREFIX + version)) await (await caches.open(PREFIX + version)).put(path, response);
}

/** The files of the version before stay, for pages of it that are still open. */
async function tidy() {
  const old = (await ours()).filter((name) => name !== CACHE).slice(0, -1);
  await Promise.all(old.map((name) => caches.delete(name)));
  await clients.claim();
}

/** The version, or the digest, is part of a file's address, so a kept file is never the wrong one. */
async function file(request) {
  return (await caches.match(request.url, { ignoreVary: true })) ?? fetch(request);
}

async function page(event, { pathname: path, search }) {
  const answer = fetch(event.request); // asked for at once: it need not wait for the cache
  answer.catch(() => undefined); // what became of it is looked at below
  const copy = await copyOf(path, search);
  try {
    const response = await (copy ? Promise.race([answer, silence(path.endsWith("/knit") ? KNIT_PATIENCE : PATIENCE)]) : answer);
    // What is asked for of a logbook is only the zone of its times; of other pages it makes another one.
    const keeps = path === FORM ? !search && (await calculates()) : PLAN.test(path) && (!search || path.endsWith("/logbook"));
    if (keeps) event.waitUntil(keep(path, response.clone()));
    const unheard = response.status === 404 && (await isAlone(path));
    if (!unheard && (response.status < 500 || !copy)) return response;
  } catch {
    // No network, or one that does not answer: what is kept here will do.
  }
  return copy ?? needsNetwork(path);
}

/** What is kept here for the page, or makes it. */
async function copyOf(path, search) {
  if (path === FORM) return search || !(await calculates()) ? undefined : kept(FORM);
  if (!MADE_HERE.test(path)) {
    const found = await kept(path.match(OF_A_PAIR)?.[1] ?? path);
    if (found || !PLAN.test(path)) return found;
  }
  return (await calculates()) ? kept(MADE) : kept(path);
}

/** Whether this phone does, without the server. */
function calculates() {
  return caches.match(WHOLE, { cacheName: CALCULATES });
}

/** The address of the pair that a page is of, if it is of one. */
function pairOf(path) {
  return path.match(/^\/pair\/[\w-]+/)?.[0];
}

/** Whether it was planned on this phone, and the server may have heard nothing of it yet. */
async function isAlone(path) {
  const pair = pairOf(path);
  return pair && (await kept(pair))?.headers.has("only-here");
}

function kept(url) {
  return caches.match(url, { cacheName: CACHE, ignoreVary: true });
}

function silence(long) {
  return new Promise((_, reject) => setTimeout(reject, long));
}

async function needsNetwork(path) {
  const pair = pairOf(path);
  const why = (await isAlone(path))
    ? "The pair is on this phone alone. This page of it opens once it was sent."
    : "There is none at the moment. Pairs that were opened here can be knitted without one.";
  const knit = pair ? `<p><a href="${pair}/knit">Go on knitting this pair</a></p>` : "";
  const text = `<!DOCTYPE html><html lang="en"><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark">
<title>No network · Tapeline</title>${STYLES}<main class="desk"><h1>This page needs a network</h1>
<p>${why}</p>
${knit}<p><a href="/">Your pairs</a></p></main></html>`;
  return new Response(text, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
}
