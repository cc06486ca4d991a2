/** What comes after a finished pair: how it fits, a photo, and the next pair. */

import { element } from "../../lib/dom.js";
import { actionButton, choices, linkButton, openSheet } from "../../lib/sheet.js";
import { keepFoot, listFeet } from "../../pair/feet.js";
import { keepRemark } from "../../pair/remarks.js";
import { noteSheet } from "../sheets/remark-sheet.js";

/** The parts of a sock that are felt, and how, as a kept foot has them. */
const WHERE = ["leg", "heel", "foot", "toe"];
const FEELS = ["tight", "right", "loose"];

/**
 * @param {string} link
 * @param {() => void} kept after something was written down
 */
export function afterPair(link, kept) {
  const made = element(
    "p",
    actionButton("How do they fit?", () => fitSheet(link, kept)),
    actionButton("Keep a photo", () => noteSheet(link, kept)),
    linkButton("Plan the next pair", `/pair/${link}/next`),
  );
  made.className = "after-pair";
  return made;
}

/** @param {string} link @param {() => void} kept */
async function fitSheet(link, kept) {
  const feet = await listFeet().catch(() => []); // private windows of some browsers have no database
  const parts = WHERE.map((where) => choices(where, `At the ${where}`, FEELS));
  parts.forEach((part) => part.querySelectorAll("input")[FEELS.indexOf("right")].setAttribute("checked", ""));
  const names = feet.map(({ name }) => name);
  const whose = names.length ? [choices("name", "Whose foot is it?", names)] : [];
  openSheet("How do they fit?", [...parts, ...whose], async (form) => {
    const said = new FormData(form);
    const felt = Object.fromEntries(WHERE.map((where) => [where, String(said.get(where))]));
    for (const [where, feels] of Object.entries(felt)) await keepRemark(link, "try-on", { where, feels });
    kept();
    tell(
      feet.find(({ name }) => name === said.get("name")),
      felt,
    );
  });
}

/**
 * @param {import("../../pair/feet.js").KeptFoot | undefined} foot
 * @param {Record<string, string>} felt
 */
async function tell(foot, felt) {
  const said = element("p", "Kept in the logbook.");
  said.setAttribute("role", "status");
  /** @type {HTMLElement[]} */
  const buttons = [];
  if (foot) {
    await keepFoot({ ...foot, felt: { ...foot.felt, ...felt } });
    said.textContent = `Remembered for ${foot.name}: the next pair for this foot allows for it.`;
    const back = actionButton("Take it back", async () => {
      await keepFoot(foot);
      said.textContent = `${foot.name} is as before.`;
      back.remove();
    });
    buttons.push(back);
  }
  openSheet("Fit kept", [said, ...buttons]);
}
