/** A refused form: leads to what was wrong, and stops calling a field wrong once it is typed in again. */

/** @param {HTMLFormElement} form */
export function followErrors(form) {
  document.getElementById("errors")?.focus();
  form.addEventListener("input", ({ target }) => {
    if (!(target instanceof HTMLElement) || !target.hasAttribute("aria-invalid")) return;
    const error = document.getElementById(`${target.id}-error`);
    const described = (target.getAttribute("aria-describedby") ?? "").split(" ").filter((id) => id !== error?.id);
    target.setAttribute("aria-describedby", described.join(" "));
    target.removeAttribute("aria-invalid");
    error?.remove();
  });
}
