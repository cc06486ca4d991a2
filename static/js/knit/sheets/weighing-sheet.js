/** The sheet in which a weighing is written down: what is left of one yarn, in grams or ounces. */

import { loadData } from "../../pair/db.js";
import { keepRemark } from "../../pair/remarks.js";
import { OUNCE } from "../../lib/measure.js";
import { element } from "../../lib/dom.js";
import { choices, leadTo, openSheet } from "../../lib/sheet.js";
import { keptSheet } from "./kept-sheet.js";

/**
 * @param {string} link
 * @param {() => void} kept after it was written down
 */
export async function weighingSheet(link, kept) {
  const data = await loadData(link);
  const yarns = data?.scripts[0].yarns ?? [];
  const inches = data?.unit === "in";
  const one = inches ? OUNCE : 1; // in grams
  const left = element("input");
  Object.assign(left, {
    className: "input",
    name: "left",
    type: "number",
    inputMode: "decimal",
    min: "0",
    max: String(Number(document.body.dataset.mostGrams) / one),
    step: "any",
    required: true,
  });
  const which = yarns.map(({ key, name }) => /** @type {[string, string]} */ ([key, `${key}: ${name}`]));
  openSheet(
    "Weigh the yarn",
    [
      element(
        "p",
        `All that is left of one yarn, without needles and knitting. ${inches ? "A tenth of an ounce" : "A gram"} is close enough.`,
      ),
      ...(which.length > 1 ? [choices("yarn", "Which yarn?", which)] : []),
      element("label", `${inches ? "Ounces" : "Grams"} left `, left),
    ],
    async (form) => {
      const yarn = String(new FormData(form).get("yarn") ?? yarns[0]?.key ?? "A");
      const { id } = await keepRemark(link, "weighing", {
        grams: Math.round(left.valueAsNumber * one * 10) / 10,
        yarn,
      });
      kept();
      const words = `${left.value} ${inches ? "oz" : "g"} left${yarns.length > 1 ? ` of yarn ${yarn}` : ""}.`;
      const means = location.pathname.endsWith("/yarn")
        ? undefined
        : leadTo("How far it reaches", `/pair/${link}/yarn`);
      keptSheet("Weighing kept", words, { link, id }, kept, means);
    },
  );
}
