/** A sheet over the page in which something is written down, and what it is made of. */

import { element } from "./dom.js";

/**
 * A question with its answers to choose from, each with its value where that is another than its words.
 * @param {string} name
 * @param {string} question
 * @param {(string | [string, string])[]} answers
 */
export function choices(name, question, answers) {
  const labels = answers.map((each) => {
    const [answer, words] = typeof each === "string" ? [each, each] : each;
    const input = element("input");
    input.type = "radio";
    input.name = name;
    input.value = answer;
    input.required = true;
    return element("label", input, ` ${words}`);
  });
  return element("fieldset", element("legend", question), ...labels);
}

/**
 * Open a sheet over the page. Without `save` there is nothing to fill in.
 * @param {string} title
 * @param {Node[]} parts
 * @param {(form: HTMLFormElement) => Promise<void>} [save]
 * @param {string} [remedy] what to do when it could not be kept
 */
export function openSheet(title, parts, save, remedy = "Try it once more.") {
  const sheet = element("dialog");
  sheet.className = "remark-sheet";
  const heading = element("h2", title);
  heading.id = "sheet-title";
  sheet.setAttribute("aria-labelledby", heading.id);
  const form = element("form");
  const trouble = element("p");
  trouble.setAttribute("role", "alert");
  const buttons = [actionButton(save ? "Cancel" : "Close", () => sheet.close())];
  if (save) buttons.unshift(saver());
  form.append(heading, ...parts, trouble, element("p", ...buttons));
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    try {
      await save?.(form);
      sheet.close();
    } catch (error) {
      trouble.textContent = `This could not be kept: ${/** @type {Error} */ (error).message}. ${remedy}`;
    }
  });
  sheet.append(form);
  // On the page below, arrows and page keys count rounds.
  sheet.addEventListener("keydown", (event) => event.stopPropagation());
  sheet.addEventListener("close", () => {
    sheet.remove();
    // On the knit page the next key comes from a pedal, and is meant to count.
    document.getElementById("done")?.focus();
  });
  document.body.append(sheet);
  sheet.showModal();
  return sheet;
}

function saver() {
  const button = actionButton("Keep it", () => undefined);
  button.type = "submit";
  button.classList.add("primary");
  return button;
}

/**
 * @param {string} words
 * @param {() => void} pressed
 */
export function actionButton(words, pressed) {
  const button = element("button", words);
  button.type = "button";
  button.className = "button";
  button.addEventListener("click", pressed);
  return button;
}

/**
 * @param {string} words
 * @param {string} url
 */
export function linkButton(words, url) {
  const made = element("a", words);
  made.className = "button";
  made.href = url;
  return made;
}
