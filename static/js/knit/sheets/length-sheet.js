/** The sheet in which a length by tape is written down: how long the knitting is up to the needles, and from where. */

import { CLEARED, loadData, loadPair } from "../../pair/db.js";
import { CM } from "../../lib/measure.js";
import { rulerFactor } from "../../lib/ruler.js";
import { keepRemark } from "../../pair/remarks.js";
import { scriptOf } from "../../pair/instructions.js";
import { element } from "../../lib/dom.js";
import { choices, linkButton, openSheet } from "../../lib/sheet.js";
import { parseNumber } from "../../lib/units.js";
import { keptSheet } from "./kept-sheet.js";

/** @type {Record<string, string>} */
const ENDS = { "cast-on": "the cast-on", "back of heel": "the back of the heel", "tip of toe": "the tip of the toe" };
const TITLE = "Length by tape";
const NO_TAPE =
  "No straight tape goes up to the needles here. In cuff, leg and foot there is one, and where the heel has its back.";

/**
 * @param {string} link
 * @param {() => void} kept after it was written down
 */
export async function lengthSheet(link, kept) {
  const [data, { record }] = await Promise.all([loadData(link), loadPair(link)]);
  if (!data || !record) return void openSheet(TITLE, [element("p", `No length can be kept: ${CLEARED}.`)]);
  const { unit } = data;
  const { sock } = record;
  const round = record.round[sock];
  const ends = endsAt(scriptOf(data, sock).sections, round);
  if (!ends.length) return void openSheet(TITLE, [element("p", NO_TAPE)]);
  const length = lengthInput();
  openSheet(
    TITLE,
    [
      element("p", "Laid flat and not stretched, up to the needles."),
      endChoices(ends),
      element("label", `Length in ${unit} `, length),
    ],
    async (form) => {
      const from = String(new FormData(form).get("from"));
      const { id } = await keepRemark(link, "length", { cm: centimetresOf(length.value, unit), from });
      kept();
      const means = linkButton(
        "What that means for the rest",
        `/pair/${link}/check/result?sock=${sock}&round=${round}`,
      );
      keptSheet("Length kept", "It counts for your gauge like any check.", { link, id }, kept, means);
    },
    "Write it as 14.5 or 5 3/4.",
  );
}

/**
 * Where a straight tape can begin that goes up to the needles, each with its words.
 * @param {import("../../pair/instructions.js").Section[]} sections
 * @param {number} round
 * @returns {[string, string][]}
 */
function endsAt(sections, round) {
  const last = sections.find(({ first, count }) => round > first && round <= first + count);
  return (last?.tape ?? []).map((end) => [end, ENDS[end] ?? `where the ${last?.title.toLowerCase()} begins`]);
}

/** @param {[string, string][]} ends */
function endChoices(ends) {
  const from = choices("from", "From where?", ends);
  from.className = "lines";
  from.querySelector("input")?.setAttribute("checked", "");
  return from;
}

function lengthInput() {
  const attributes = { name: "length", inputMode: "decimal", required: true, autocomplete: "off" };
  return Object.assign(element("input"), { className: "input", ...attributes });
}

/** What was typed, by the tape in hand. @param {string} typed @param {import("../../lib/measure.js").Unit} unit */
function centimetresOf(typed, unit) {
  const cm = (parseNumber(typed) ?? Number.NaN) * CM[unit] * rulerFactor();
  if (cm > 0 && cm <= Number(document.body.dataset.mostCm)) return Math.round(cm * 100) / 100;
  throw new Error(`“${typed}” is no length of a sock in ${unit}`);
}
