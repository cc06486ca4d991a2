/** The yarns of cuff, heel and toe in the plan form: named as they are typed, and there as soon as one is chosen. */

const KEYS = ["A", "B", "C", "D"];

/** @param {HTMLFormElement} form */
export function followPartYarns(form) {
  const chosen = /** @type {NodeListOf<HTMLSelectElement>} */ (form.querySelectorAll(".part-yarns select"));
  form.addEventListener("input", ({ target }) => {
    if (target instanceof HTMLSelectElement && [...chosen].includes(target)) haveYarn(target.value);
    show();
  });
  show();

  /** A yarn that is chosen for a part is one to be typed. @param {string} key */
  function haveYarn(key) {
    const count = KEYS.indexOf(key) + 1;
    if (count <= Number(new FormData(form).get("yarn_count"))) return;
    const enough = /** @type {HTMLInputElement} */ (form.querySelector(`[name="yarn_count"][value="${count}"]`));
    enough.checked = true;
    enough.dispatchEvent(new Event("input", { bubbles: true }));
  }

  function show() {
    const names = KEYS.map((key, index) => nameOf(index ? `yarn_name_${key.toLowerCase()}` : "yarn_name"));
    for (const select of chosen) {
      [...select.options].forEach((option, index) => {
        option.textContent = names[index] ? `${KEYS[index]}: ${names[index]}` : KEYS[index];
      });
    }
    const others = [...chosen].filter(({ value }) => value);
    const said = others.map(({ value, name }) => `; ${name.replace("_yarn", "")} in ${value}`);
    /** @type {HTMLElement} */ (document.getElementById("part-yarns-chosen")).textContent = said.join("");
  }

  /** @param {string} field */
  function nameOf(field) {
    return String(new FormData(form).get(field) ?? "").trim();
  }
}
