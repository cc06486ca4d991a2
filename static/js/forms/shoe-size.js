/** Fills the foot's fields with the guess from a shoe size, without leaving the page. */

import { typeInto } from "./type-into.js";

/** @param {HTMLFormElement} form */
export function followShoeSize(form) {
  const said = /** @type {HTMLElement} */ (document.getElementById("shoe-said"));
  const button = /** @type {HTMLElement} */ (document.getElementById("fill-from-shoe"));
  button.addEventListener("click", async (event) => {
    event.preventDefault();
    const { fields = {} } = await ask();
    for (const [name, value] of Object.entries(fields)) typeInto(form, name, value);
  });
  form.addEventListener("change", ({ target }) => {
    const { name } = /** @type {HTMLInputElement} */ (target);
    if (name === "unit" && new FormData(form).get("shoe_size")) ask();
  });

  /** What the shoe size lets guess of the foot; it is said in the form's unit, and so is what is wrong. */
  async function ask() {
    const body = new FormData(form);
    const token = String(body.get("csrf_token"));
    try {
      const answer = await fetch("/plan/shoe-size", { method: "POST", body, headers: { "X-CSRFToken": token } });
      const guess = await answer.json();
      said.textContent = guess.says;
      return guess;
    } catch {
      said.textContent = "The server does not answer: try again, or type the two measurements.";
      return {};
    }
  }
}
