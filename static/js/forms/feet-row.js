/** The row of names in the plan form: each fills in a foot that was measured before. */

import { readFeet, saveInAFile } from "./feet-file.js";
import { MEASURES, SHOE, forgetFoot, keepFoot, listFeet, renameFoot } from "../pair/feet.js";
import { allowFor } from "./felt-before.js";
import { element } from "../lib/dom.js";
import { opener } from "../lib/sheet.js";
import { typeInto } from "./type-into.js";
import { chosenUnit } from "./unit-switch.js";
import { convert, parseNumber } from "../lib/units.js";

/** @typedef {import("../pair/feet.js").KeptFoot} KeptFoot */

const NEEDED = /** @type {const} */ (["ball_circumference", "foot_length"]);

/**
 * @template {HTMLElement} T
 * @param {string} id
 */
const part = (id) => /** @type {T} */ (document.getElementById(id));

/** @param {HTMLFormElement} form */
export async function offerFeet(form) {
  const row = part("feet");
  const name = /** @type {HTMLInputElement} */ (part("foot-name"));
  const file = /** @type {HTMLInputElement} */ (part("read-feet"));
  const newName = /** @type {HTMLInputElement} */ (part("foot-new-name"));
  let chosen = "";

  part("keep-foot-now").addEventListener("click", keep);
  part("rename-foot").addEventListener("click", rename);
  part("forget-foot").addEventListener("click", forget);
  part("save-feet").addEventListener("click", async () => saveInAFile(await listFeet()));
  file.addEventListener("change", read);
  onEnter(name, keep);
  onEnter(newName, rename);
  try {
    await show();
    part("keep-foot").hidden = false;
  } catch {
    return; // Private windows of some browsers have no database: the form is complete without the names.
  }

  async function show() {
    const feet = await listFeet();
    if (!feet.some((foot) => foot.name === chosen)) chosen = "";
    part("feet-names").replaceChildren(...feet.map(buttonOf));
    row.hidden = feet.length === 0;
    part("foot-chosen").hidden = !chosen;
    newName.value = chosen;
  }

  /** @param {KeptFoot} foot */
  function buttonOf(foot) {
    const button = opener(foot.name, () => fill(foot));
    button.setAttribute("aria-pressed", String(foot.name === chosen));
    return element("li", button);
  }

  /** @param {KeptFoot} foot */
  async function fill(foot) {
    const unit = chosenUnit(form);
    for (const field of MEASURES) typeInto(form, field, convert(foot.typed[field] ?? "", "length", foot.unit, unit));
    const { shoe_system: system, shoe_size: size = "" } = foot.typed;
    if (system) typeInto(form, "shoe_system", system);
    typeInto(form, "shoe_size", size); // a guess stays one, and a foot that was measured is none
    chosen = name.value = foot.name;
    row.append(part("feet-note"));
    await show();
    /** @type {HTMLElement | null} */ (part("feet-names").querySelector("[aria-pressed=true]"))?.focus();
    tell(`${foot.name}: filled in. ${allowFor(form, foot, unit)}`.trim());
  }

  async function keep() {
    const typed = Object.fromEntries(
      [...MEASURES, ...SHOE].map((field) => [field, String(new FormData(form).get(field)).trim()]),
    );
    const whose = name.value.trim();
    part("keep-foot").append(part("feet-note"));
    if (!whose) return tell("Whose foot is it? Type a name first.");
    if (NEEDED.some((field) => parseNumber(typed[field]) === null)) {
      return tell("Type in the ball of the foot and its length first.");
    }
    const known = (await listFeet()).find((each) => each.name === whose)?.felt;
    const before = await keepFoot({
      name: whose,
      unit: chosenUnit(form),
      typed,
      ...(known && { felt: stillFelt(known) }),
    });
    chosen = whose;
    await show();
    if (before) tell(`${whose} has these measurements from now on.`, () => keepFoot(before));
    else tell(`${whose} is kept.`, () => forgetFoot(whose));
  }

  async function read() {
    const feet = readFeet((await file.files?.[0]?.text()) ?? "");
    file.value = ""; // or the same file could not be chosen again
    part("keep-foot").append(part("feet-note"));
    if (!feet) return tell("This is no file of feet. Choose one that was saved here.");
    const before = await Promise.all(feet.map(keepFoot));
    await show();
    tell(`Read from the file: ${feet.map((foot) => foot.name).join(", ")}.`, () =>
      Promise.all(feet.map((foot, index) => (before[index] ? keepFoot(before[index]) : forgetFoot(foot.name)))),
    );
  }

  async function rename() {
    const next = newName.value.trim();
    const before = chosen;
    row.append(part("feet-note"));
    if (!next || next === before) return tell("Type the new name first.");
    if (!(await renameFoot(before, next))) return tell(`There is a foot of the name ${next} already.`);
    chosen = name.value = next;
    await show();
    tell(`${before} is called ${next} from now on.`, () => renameFoot(next, before));
  }

  async function forget() {
    const foot = (await listFeet()).find((each) => each.name === chosen);
    if (!foot) return;
    row.after(part("feet-note")); // the row may be gone with its last name
    await forgetFoot(foot.name);
    await show();
    tell(`${foot.name} is forgotten. What is typed in stays.`, () => keepFoot(foot));
  }

  /**
   * @param {string} sentence
   * @param {() => Promise<unknown>} [undo]
   */
  function tell(sentence, undo) {
    part("feet-note").hidden = false;
    part("feet-said").textContent = sentence;
    const back = part("feet-undo");
    back.hidden = !undo;
    back.onclick = async () => {
      await undo?.();
      await show();
      tell("As it was before.");
    };
  }
}

/**
 * @param {HTMLInputElement} field
 * @param {() => unknown} then
 */
function onEnter(field, then) {
  field.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault(); // or the whole form would be sent
    then();
  });
}

/** What was allowed for in the measurements is typed in now. @param {Record<string, string>} felt */
function stillFelt(felt) {
  return Object.fromEntries(Object.entries(felt).filter(([where]) => where !== "heel" && where !== "instep"));
}
