/** The sheet in which a weighing is written down: what is left of one yarn, in grams or ounces. */

import { loadData } from "../../pair/db.js";
import { keepRemark } from "../../pair/remarks.js";
import { OUNCE } from "../../lib/measure.js";
import { element } from "../../lib/dom.js";
import { choices, linkButton, openSheet } from "../../lib/sheet.js";
import { keptSheet } from "./kept-sheet.js";

const GRAMS = { grams: 1, name: "Grams", sign: "g", precision: "A gram" };
const OUNCES = { grams: OUNCE, name: "Ounces", sign: "oz", precision: "A tenth of an ounce" };

/**
 * @param {string} link
 * @param {() => void} kept after it was written down
 */
export async function weighingSheet(link, kept) {
  const data = await loadData(link);
  const yarns = data?.scripts[0].yarns ?? [];
  const scale = data?.unit === "in" ? OUNCES : GRAMS;
  const left = weightInput(scale.grams);
  const keys = yarns.map(({ key, name }) => /** @type {[string, string]} */ ([key, `${key}: ${name}`]));
  openSheet(
    "Weigh the yarn",
    [
      element("p", `All that is left of one yarn, without needles and knitting. ${scale.precision} is close enough.`),
      ...(keys.length > 1 ? [choices("yarn", "Which yarn?", keys)] : []),
      element("label", `${scale.name} left `, left),
    ],
    async (form) => {
      const yarn = String(new FormData(form).get("yarn") ?? yarns[0]?.key ?? "A");
      const grams = Math.round(left.valueAsNumber * scale.grams * 10) / 10;
      const { id } = await keepRemark(link, "weighing", { grams, yarn });
      kept();
      const words = `${left.value} ${scale.sign} left${yarns.length > 1 ? ` of yarn ${yarn}` : ""}.`;
      const onYarnPage = location.pathname.endsWith("/yarn");
      const means = onYarnPage ? undefined : linkButton("How far it reaches", `/pair/${link}/yarn`);
      keptSheet("Weighing kept", words, { link, id }, kept, means);
    },
  );
}

/** @param {number} unit in grams */
function weightInput(unit) {
  return Object.assign(element("input"), {
    className: "input",
    name: "left",
    type: "number",
    inputMode: "decimal",
    min: "0",
    max: String(Number(document.body.dataset.mostGrams) / unit),
    step: "any",
    required: true,
  });
}
