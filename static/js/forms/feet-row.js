/** The row of names in the plan form: each fills in a foot that was measured before. */

import { readFeet, saveInAFile } from "./feet-file.js";
import { MEASURES, SHOE, forgetFoot, keepFoot, listFeet, renameFoot } from "../pair/feet.js";
import { allowFor } from "./felt-before.js";
import { byId, element } from "../lib/dom.js";
import { actionButton } from "../lib/sheet.js";
import { typeInto } from "./type-into.js";
import { chosenUnit } from "./unit-switch.js";
import { convert, parseNumber } from "../lib/units.js";

/** @typedef {import("../pair/feet.js").KeptFoot} KeptFoot */

const NEEDED = /** @type {const} */ (["ball_circumference", "foot_length"]);

/** @param {HTMLFormElement} form */
export async function offerFeet(form) {
  const row = new FeetRow(form);
  try {
    await row.show();
    byId("keep-foot").hidden = false;
  } catch {
    // Private windows of some browsers have no database: the form is complete without the names.
  }
}

class FeetRow {
  #form;
  #row = byId("feet");
  #name = /** @type {HTMLInputElement} */ (byId("foot-name"));
  #newName = /** @type {HTMLInputElement} */ (byId("foot-new-name"));
  #chosen = "";

  /** @param {HTMLFormElement} form */
  constructor(form) {
    this.#form = form;
    const file = /** @type {HTMLInputElement} */ (byId("read-feet"));
    byId("keep-foot-now").addEventListener("click", () => this.#keep());
    byId("rename-foot").addEventListener("click", () => this.#rename());
    byId("forget-foot").addEventListener("click", () => this.#forget());
    byId("save-feet").addEventListener("click", async () => saveInAFile(await listFeet()));
    file.addEventListener("change", () => this.#read(file));
    onEnter(this.#name, () => this.#keep());
    onEnter(this.#newName, () => this.#rename());
  }

  async show() {
    const feet = await listFeet();
    if (!feet.some((foot) => foot.name === this.#chosen)) this.#chosen = "";
    byId("feet-names").replaceChildren(...feet.map((foot) => this.#buttonOf(foot)));
    this.#row.hidden = feet.length === 0;
    byId("foot-chosen").hidden = !this.#chosen;
    this.#newName.value = this.#chosen;
  }

  /** @param {KeptFoot} foot */
  #buttonOf(foot) {
    const button = actionButton(foot.name, () => this.#fill(foot));
    button.setAttribute("aria-pressed", String(foot.name === this.#chosen));
    return element("li", button);
  }

  /** @param {KeptFoot} foot */
  async #fill(foot) {
    const form = this.#form;
    const unit = chosenUnit(form);
    for (const field of MEASURES) typeInto(form, field, convert(foot.typed[field] ?? "", "length", foot.unit, unit));
    const { shoe_system: system, shoe_size: size = "" } = foot.typed;
    if (system) typeInto(form, "shoe_system", system);
    typeInto(form, "shoe_size", size); // a guess stays one, and a foot that was measured is none
    this.#chosen = this.#name.value = foot.name;
    this.#row.append(byId("feet-note"));
    await this.show();
    /** @type {HTMLElement | null} */ (byId("feet-names").querySelector("[aria-pressed=true]"))?.focus();
    this.#tell(`${foot.name}: filled in. ${allowFor(form, foot, unit)}`.trim());
  }

  async #keep() {
    const form = this.#form;
    const typed = Object.fromEntries(
      [...MEASURES, ...SHOE].map((field) => [field, String(new FormData(form).get(field)).trim()]),
    );
    const whose = this.#name.value.trim();
    byId("keep-foot").append(byId("feet-note"));
    if (!whose) return this.#tell("Whose foot is it? Type a name first.");
    if (NEEDED.some((field) => parseNumber(typed[field]) === null)) {
      return this.#tell("Type in the ball of the foot and its length first.");
    }
    const known = (await listFeet()).find((each) => each.name === whose)?.felt;
    const before = await keepFoot({
      name: whose,
      unit: chosenUnit(form),
      typed,
      ...(known && { felt: stillFelt(known) }),
    });
    this.#chosen = whose;
    await this.show();
    if (before) this.#tell(`${whose} has these measurements from now on.`, () => keepFoot(before));
    else this.#tell(`${whose} is kept.`, () => forgetFoot(whose));
  }

  /** @param {HTMLInputElement} file */
  async #read(file) {
    const feet = readFeet((await file.files?.[0]?.text()) ?? "");
    file.value = ""; // or the same file could not be chosen again
    byId("keep-foot").append(byId("feet-note"));
    if (!feet) return this.#tell("This is no file of feet. Choose one that was saved here.");
    const before = await Promise.all(feet.map(keepFoot));
    await this.show();
    this.#tell(`Read from the file: ${feet.map((foot) => foot.name).join(", ")}.`, () =>
      Promise.all(feet.map((foot, index) => (before[index] ? keepFoot(before[index]) : forgetFoot(foot.name)))),
    );
  }

  async #rename() {
    const next = this.#newName.value.trim();
    const before = this.#chosen;
    this.#row.append(byId("feet-note"));
    if (!next || next === before) return this.#tell("Type the new name first.");
    if (!(await renameFoot(before, next))) return this.#tell(`There is a foot of the name ${next} already.`);
    this.#chosen = this.#name.value = next;
    await this.show();
    this.#tell(`${before} is called ${next} from now on.`, () => renameFoot(next, before));
  }

  async #forget() {
    const foot = (await listFeet()).find((each) => each.name === this.#chosen);
    if (!foot) return;
    this.#row.after(byId("feet-note")); // the row may be gone with its last name
    await forgetFoot(foot.name);
    await this.show();
    this.#tell(`${foot.name} is forgotten. What is typed in stays.`, () => keepFoot(foot));
  }

  /**
   * @param {string} sentence
   * @param {() => Promise<unknown>} [undo]
   */
  #tell(sentence, undo) {
    byId("feet-note").hidden = false;
    byId("feet-said").textContent = sentence;
    const back = byId("feet-undo");
    back.hidden = !undo;
    back.onclick = async () => {
      await undo?.();
      await this.show();
      this.#tell("As it was before.");
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
