/** How the last socks for a foot felt, and what the plan form allows for it. */

import { typeInto } from "./type-into.js";
import { convert, parseNumber } from "../lib/units.js";

/** @typedef {import("../pair/feet.js").KeptFoot} KeptFoot */
/** @typedef {import("../lib/units.js").Unit} Unit */

/** What one tight or loose place is worth: 3 % round (about two stitches of 64), 1 cm round the heel, half a cm of length. */
const ROUND = 3;
const HEEL_CM = 1;
const LENGTH_CM = 0.5;
/** The usual ease, where the form shows none. */
const USUAL_PERCENT = 10;
const USUAL_CM = 1;

/**
 * What helps a cuff, which has no count of its own to change: common practice.
 * @type {Record<string, string>}
 */
const CUFF = {
  tight: "cast on over two needles this time, or bind off loosely from the toe up",
  loose: "cast on and knit the ribbing with a needle one size smaller this time",
};

/**
 * Change what the form asks for by what is remembered of the foot, and say so.
 * @param {HTMLFormElement} form
 * @param {KeptFoot} foot already filled in
 * @param {Unit} unit
 * @returns {string} a sentence for each thing remembered; "" where there is nothing to allow for
 */
export function allowFor(form, { felt = {} }, unit) {
  const around = felt.foot ?? felt.leg;
  const deep = felt.heel ?? felt.instep;
  const where = felt.heel ? "heel" : "instep";
  const said = [];
  if (turns(around)) {
    const field = /** @type {HTMLInputElement} */ (form.elements.namedItem("ease_percent"));
    const ease = (parseNumber(field.placeholder) ?? USUAL_PERCENT) - turns(around) * ROUND;
    typeInto(form, "ease_percent", String(ease));
    said.push(`Last time it was ${around} round: ${ease} % smaller round this time.`);
  }
  if (turns(deep)) {
    const measured = valueOf(form, "heel_diagonal", unit);
    if (measured !== null) {
      typeInto(form, "heel_diagonal", convert(String(measured + turns(deep) * HEEL_CM), "length", "cm", unit));
      said.push(
        `It was ${deep} at the ${where}: ${inUnit(HEEL_CM, unit)} ${turns(deep) > 0 ? "more" : "less"} round the heel.`,
      );
    } else {
      said.push(`It was ${deep} at the ${where}: measure the heel diagonal this time.`);
    }
  }
  if (turns(felt.toe)) {
    const ease = USUAL_CM - turns(felt.toe) * LENGTH_CM;
    typeInto(form, "length_ease", convert(String(ease), "length", "cm", unit));
    said.push(`It was ${felt.toe} at the toe: ${inUnit(ease, unit)} shorter than the foot this time.`);
  }
  const cuff = CUFF[felt.cuff];
  if (cuff) said.push(`Last time the cuff was ${felt.cuff}: ${cuff}.`);
  return said.join(" ");
}

/** 1 where more is wanted, -1 where less, 0 where it was right. @param {string | undefined} feels */
function turns(feels) {
  return feels === "tight" ? 1 : feels === "loose" ? -1 : 0;
}

/**
 * @param {HTMLFormElement} form
 * @param {string} name
 * @param {Unit} unit
 */
function valueOf(form, name, unit) {
  return parseNumber(convert(String(new FormData(form).get(name) ?? ""), "length", unit, "cm"));
}

/**
 * @param {number} cm
 * @param {Unit} unit
 */
function inUnit(cm, unit) {
  return `${convert(String(cm), "length", "cm", unit)} ${unit}`;
}
