/** The menu's settings, and the quiet click that they can switch on. */

import { element } from "../../lib/dom.js";
import { applySettings, keepSettings, settings } from "../../lib/settings.js";

/** @typedef {import("../../lib/settings.js").Settings} Settings */

/** Seconds and hertz of the click: a short wooden tap, as of two needles. */
const LENGTH = 0.03;
const PITCH = 1200;

let chosen = settings();
/** Only made when it is first needed: browsers start it only under a finger. @type {AudioContext | null} */
let audio = null;

/** What there is to choose from, the usual first. @type {[keyof Settings, string, [string, string][]][]} */
const CHOICES = [
  [
    "text",
    "Size of the text",
    [
      ["100", "as the browser has it"],
      ["125", "a quarter larger"],
      ["150", "half as large again"],
      ["200", "twice as large"],
    ],
  ],
  [
    "side",
    "The thumb that counts",
    [
      ["right", "right"],
      ["left", "left"],
    ],
  ],
  [
    "apart",
    "A second tap counts after",
    [
      ["200", "0.2 seconds"],
      ["400", "0.4 seconds"],
      ["700", "0.7 seconds"],
      ["1000", "one second"],
    ],
  ],
];

/** What can be switched on. @type {[keyof Settings, string][]} */
const SWITCHES = [
  ["knits", "Left-handed: I knit from left to right"],
  ["click", "A quiet click with each count"],
  ["aloud", "My reminders read aloud"],
];

/** For a pair that has them. @type {[keyof Settings, string]} */
const REPEATS = ["repeats", "Rounds of lace and cables repeat by repeat"];

/**
 * The settings as a form; what is chosen holds at once.
 * @param {boolean} repeats whether the pair has rounds that can be gone through repeat by repeat
 * @param {() => void} painted paints the round as it is then
 */
export function settingsForm(repeats, painted) {
  const switches = repeats ? [...SWITCHES, REPEATS] : SWITCHES;
  const form = element("form", ...CHOICES.flatMap(choice), ...switches.map(tick));
  form.id = "settings";
  form.addEventListener("change", () => {
    const off = Object.fromEntries(switches.map(([name]) => [name, ""]));
    const before = chosen;
    chosen = { ...settings(), ...off, .../** @type {object} */ (Object.fromEntries(new FormData(form))) };
    keepSettings(chosen);
    applySettings(chosen);
    if (chosen.repeats !== before.repeats || chosen.knits !== before.knits) painted();
    click();
  });
  return form;
}

/** @param {[keyof Settings, string, [string, string][]]} setting */
function choice([name, question, answers]) {
  const select = element("select", ...answers.map(([value, words]) => new Option(words, value)));
  Object.assign(select, { id: `set-${name}`, name, className: "input", value: chosen[name] });
  const label = element("label", question);
  label.htmlFor = select.id;
  return [label, select];
}

/** @param {[keyof Settings, string]} setting */
function tick([name, words]) {
  const box = Object.assign(element("input"), { type: "checkbox", name, value: "on", checked: chosen[name] === "on" });
  const label = element("label", box, ` ${words}`);
  label.className = "tick";
  return label;
}

/** Sound a click for a count, if the knitter wants it. */
export function click() {
  if (!chosen.click) return;
  audio ??= new AudioContext();
  const now = audio.currentTime;
  const loudness = audio.createGain();
  loudness.gain.setValueAtTime(0.15, now);
  loudness.gain.exponentialRampToValueAtTime(0.001, now + LENGTH);
  const tone = new OscillatorNode(audio, { type: "triangle", frequency: PITCH });
  tone.connect(loudness).connect(audio.destination);
  tone.start(now);
  tone.stop(now + LENGTH);
}
