/** The gauge check form: its lengths follow the unit, and what was counted is kept also where there is no network. */

import { followErrors } from "../lib/errors.js";
import { fillIn, onPattern } from "./check-shell.js";
import { keepCheck } from "../pair/kept-check.js";
import { uuid } from "../pair/logbook.js";
import { runtimeHere } from "../phone/runtime.js";
import { exchange } from "../pair/sync.js";
import { offerRepeats } from "./repeats.js";
import { offerRuler } from "./ruler-row.js";
import { spotsIn } from "./spots.js";
import { followUnit } from "./unit-switch.js";

/** Milliseconds after which a silent server counts as none. */
const PATIENCE = 10_000;

const form = /** @type {HTMLFormElement} */ (document.getElementById("check-form"));
const link = location.pathname.match(/^\/pair\/([\w-]+)\/check$/)?.[1] ?? "";

// This page is the one for times without network, and its counts will soon be asked about.
if ("shell" in form.dataset) planning().then((found) => found?.begin());
// A page that was kept is opened more than once, and each check has a name of its own.
field("entry").value = uuid();
followErrors(form);
fillIn(form, link)
  .catch(() =>
    tell("This pair is not on this phone yet, and the server does not answer. Try again where there is a network."),
  )
  .finally(() => {
    followUnit(form);
    offerRuler(form);
    offerRepeats(form);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      send();
    });
  });

async function send() {
  const button = /** @type {HTMLButtonElement} */ (form.querySelector("button.primary"));
  button.disabled = true;
  try {
    await hand();
  } catch {
    await keepHere();
  } finally {
    button.disabled = false;
  }
}

/** To the server, with the rounds that were counted here before it. Throws where there is none. */
async function hand() {
  while (await exchange(link));
  const signal = AbortSignal.timeout(PATIENCE);
  const { token } = await (await fetch("/csrf", { cache: "no-store", signal })).json();
  field("csrf_token").value = token;
  const answer = await fetch(form.action, { method: "POST", body: new FormData(form), redirect: "manual", signal });
  if (answer.type === "opaqueredirect") {
    const place = new URLSearchParams({
      sock: field("sock").value,
      round: field("round").value,
      unit: form.dataset.unit ?? "cm",
    });
    location.assign(`/pair/${link}/check/result?${place}`);
  } else if (answer.status < 500) {
    form.submit(); // the page that the server makes says what is wrong
  } else {
    throw new Error(`the server answered ${answer.status}`);
  }
}

/** What is needed to calculate here, where this phone does; null elsewhere. */
async function planning() {
  const here = await runtimeHere().catch(() => null);
  return here && import("../phone/planning.js").catch(() => null);
}

/** On this page, where the calculation has begun; a phone that does not calculate goes on counting. */
async function showResult() {
  if (!(await planning())) return location.assign(`/pair/${link}/knit`);
  const { showPageHere } = await import("../phone/page-here.js");
  const place = new URLSearchParams({ sock: field("sock").value, round: field("round").value });
  history.pushState(null, "", `/pair/${link}/check/result?${place}`);
  addEventListener("popstate", () => location.reload());
  await showPageHere();
}

/** Into the logbook of this browser. */
async function keepHere() {
  const { data, wrong } = spotsIn(form);
  if (wrong.length) return refuse(wrong);
  const needle = Number(form.dataset.needle);
  const sock = field("sock").value === "2" ? 2 : 1;
  const made = {
    id: field("entry").value,
    sock,
    round: Number(field("round").value),
    data: {
      ...data,
      ...(onPattern(form) ? { in_pattern: true } : {}),
      ...(needle ? { needle_mm: needle } : {}),
    },
  };
  try {
    await keepCheck(link, /** @type {import("../pair/kept-check.js").Made} */ (made));
    await showResult();
  } catch (error) {
    const why = /** @type {Error} */ (error).message;
    tell(`There is no network, and this could not be kept here: ${why}. Write down what you counted.`);
  }
}

/** Say what is wrong, as the server would. @param {import("./spots.js").Wrong[]} wrong */
function refuse(wrong) {
  for (const { field: at } of wrong) {
    at?.setAttribute("aria-invalid", "true");
    at?.setAttribute("aria-describedby", "check-said");
    at?.closest("details")?.setAttribute("open", "");
  }
  tell(
    wrong
      .map(({ field: at, said }) =>
        at ? `${at.labels?.[0].textContent}: ${given(at)}${sentence(said)}` : sentence(said),
      )
      .join("\n"),
  );
  wrong[0].field?.focus();
}

/** What was typed, on one line. @param {HTMLInputElement} at */
function given({ value }) {
  const typed = value.trim().replace(/\s+/g, " ");
  return typed && `You typed “${typed}”. `;
}

/** As the server ends and begins them (companion/words.py). @param {string} words */
function sentence(words) {
  return `${words[0].toUpperCase()}${words.slice(1)}${/[.!?]$/.test(words) ? "" : "."}`;
}

/** @param {string} words */
function tell(words) {
  const said = /** @type {HTMLElement} */ (document.getElementById("check-said"));
  said.textContent = words;
}

/** @param {string} name */
function field(name) {
  return /** @type {HTMLInputElement} */ (form.elements.namedItem(name));
}
