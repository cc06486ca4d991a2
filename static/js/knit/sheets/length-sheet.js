/** The sheet in which a length by tape is written down: how long the knitting is up to the needles, and from where. */

import { CLEARED, loadData, loadPair } from "../../pair/db.js";
import { CM } from "../../lib/measure.js";
import { rulerFactor } from "../../lib/ruler.js";
import { keepRemark } from "../../pair/remarks.js";
import { scriptOf } from "../../pair/instructions.js";
import { element } from "../../lib/dom.js";
import { choices, leadTo, openSheet } from "../../lib/sheet.js";
import { parseNumber } from "../../lib/units.js";
import { keptSheet } from "./kept-sheet.js";

/** @type {Record<string, string>} */
const ENDS = { "cast-on": "the cast-on", "back of heel": "the back of the heel", "tip of toe": "the tip of the toe" };

/**
 * @param {string} link
 * @param {() => void} kept after it was written down
 */
export async function lengthSheet(link, kept) {
  const [data, { record }] = await Promise.all([loadData(link), loadPair(link)]);
  if (!data || !record) return void openSheet("Length by tape", [element("p", `No length can be kept: ${CLEARED}.`)]);
  const { sock, round } = record;
  const last = scriptOf(data, sock).sections.find(
    ({ first, count }) => round[sock] > first && round[sock] <= first + count,
  );
  const ends = last?.tape ?? [];
  if (!last || !ends.length) {
    const why =
      "No straight tape goes up to the needles here. In cuff, leg and foot there is one, and where the heel has its back.";
    return void openSheet("Length by tape", [element("p", why)]);
  }
  const { unit } = data;
  const words = ends.map(
    (end) => /** @type {[string, string]} */ ([end, ENDS[end] ?? `where the ${last.title.toLowerCase()} begins`]),
  );
  const from = choices("from", "From where?", words);
  from.className = "lines";
  from.querySelector("input")?.setAttribute("checked", "");
  const length = element("input");
  Object.assign(length, {
    className: "input",
    name: "length",
    inputMode: "decimal",
    required: true,
    autocomplete: "off",
  });
  openSheet(
    "Length by tape",
    [
      element("p", "Laid flat and not stretched, up to the needles."),
      from,
      element("label", `Length in ${unit} `, length),
    ],
    async (form) => {
      const cm = (parseNumber(length.value) ?? Number.NaN) * CM[unit] * rulerFactor();
      if (!(cm > 0 && cm <= Number(document.body.dataset.mostCm)))
        throw new Error(`“${length.value}” is no length of a sock in ${unit}`);
      const { id } = await keepRemark(link, "length", {
        cm: Math.round(cm * 100) / 100,
        from: String(new FormData(form).get("from")),
      });
      kept();
      const means = leadTo(
        "What that means for the rest",
        `/pair/${link}/check/result?sock=${sock}&round=${round[sock]}`,
      );
      keptSheet("Length kept", "It counts for your gauge like any check.", { link, id }, kept, means);
    },
    "Write it as 14.5 or 5 3/4.",
  );
}
