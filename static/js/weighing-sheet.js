/** The sheet in which a weighing is written down: the grams that are left of one yarn. */

import { loadData } from "./db.js";
import { keepRemark } from "./remarks.js";
import { choices, element, openSheet } from "./sheet.js";

/**
 * @param {string} link
 * @param {() => void} kept after it was written down
 */
export async function weighingSheet(link, kept) {
  const data = await loadData(link);
  const yarns = data?.scripts[0].yarns ?? [];
  const grams = document.createElement("input");
  Object.assign(grams, { className: "input", name: "grams", type: "number", inputMode: "decimal", min: "0", max: document.body.dataset.mostGrams, step: "any", required: true });
  const which = yarns.map(({ key, name }) => /** @type {[string, string]} */ ([key, `${key}: ${name}`]));
  openSheet("Weigh the yarn", [
    element("p", "All that is left of one yarn, without needles and knitting. Whole grams will do."),
    ...(which.length > 1 ? [choices("yarn", "Which yarn?", which)] : []),
    element("label", "Grams left ", [grams]),
  ], async (form) => {
    const yarn = String(new FormData(form).get("yarn") ?? yarns[0]?.key ?? "A");
    await keepRemark(link, "weighing", { grams: grams.valueAsNumber, yarn });
    kept();
  });
}
