/** The menu's settings, and the quiet click that they can switch on. */

import { applySettings, keepSettings, settings } from "./settings.js";

/** Seconds and hertz of the click: a short wooden tap, as of two needles. */
const LENGTH = 0.03;
const PITCH = 1200;

let chosen = settings();
/** Only made when it is first needed: browsers start it only under a finger. @type {AudioContext | null} */
let audio = null;

/** @param {HTMLFormElement} form */
export function listenToSettings(form) {
  const fields = /** @type {(HTMLInputElement | HTMLSelectElement)[]} */ ([...form.elements]);
  for (const field of fields) {
    const value = chosen[/** @type {keyof import("./settings.js").Settings} */ (field.name)];
    if (field instanceof HTMLInputElement) field.checked = value === field.value;
    else field.value = value;
  }
  form.addEventListener("change", () => {
    chosen = { ...settings(), click: "", .../** @type {object} */ (Object.fromEntries(new FormData(form))) };
    keepSettings(chosen);
    applySettings(chosen);
    click();
  });
}

/** Let a count be heard, if that is wanted. */
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
