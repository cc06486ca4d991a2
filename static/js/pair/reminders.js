/** Reminders of the knitter's own: a time in words, and whether it has come. Pure. */

import { instructionAt, lengths, sectionAt, sectionRound } from "./instructions.js";
import { CM, showLength } from "../lib/measure.js";
import { parseNumber } from "../lib/units.js";

/** @typedef {import("./instructions.js").Script} Script */
/** @typedef {import("./instructions.js").Section} Section */
/** @typedef {import("../lib/measure.js").Unit} Unit */

/** When a reminder comes: in each round whose number `value` divides, in the round of that number, in the last round of
 * each repeat of the pattern, which is that number of it, or as soon as so many cm are knitted. Rounds are numbered in each
 * part of the sock; with a `part` only its own count, and the length is taken from where it begins, else from the sock's
 * first edge.
 * @typedef {{kind: "every" | "round" | "repeat" | "length", value: number, part?: Section}} When */

/** How a time is written. @param {Unit} unit */
export function examples(unit) {
  return `every 6th round, at ${unit === "cm" ? "15\u00a0cm" : "6\u00a0in"}, or in round 40 of the leg`;
}

/** Rounds of the pattern from which a lifeline at the end of each repeat is not too many (ours). */
const HIGH = 4;

/**
 * A lifeline as a reminder, its time and its words, for a sock in a stitch pattern. How it is drawn in is common practice.
 * @param {{height: number}} pattern
 */
export function lifeline({ height }) {
  return {
    when: height < HIGH ? "every 8 rounds" : "at the end of each repeat of the pattern",
    what: "Lifeline: when this round is done, draw a smooth thread through every stitch, past the markers.",
  };
}

/** What makes a note a reminder: the logbook keeps it as a note in these words. */
const REMINDER = /^Remind me ([^:]+): (.+)$/s;

const ORDINALS = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];

const OF_PART = "(?:,? (?:of|in|on) (?:the )?(?<part>.+))?$";
const EVERY = new RegExp(
  `^every (?:(?<which>other|${ORDINALS.join("|")}|\\d+)(?:st|nd|rd|th)? )?(?:round|row)s?${OF_PART}`,
);
const ROUND = new RegExp(`^(?:(?:in|at|on) )?(?:round|row) (?<number>\\d+)${OF_PART}`);
const REPEAT = new RegExp(`^(?:at|in) the (?:end|last round) of (?:each|every) repeat(?: of the pattern)?${OF_PART}`);
const LENGTH = new RegExp(`^(?:(?:at|after) )?(?<long>[\\d ,./½¼¾⅛⅜⅝⅞]+?) ?(?<unit>cm|in|inch|inches|")${OF_PART}`);

/**
 * @param {string} when
 * @param {string} what
 */
export function reminderText(when, what) {
  return `Remind me ${when.trim()}: ${what.trim()}`;
}

/**
 * The time and the words of a note that is a reminder, null for any other.
 * @param {string} text
 */
export function readReminder(text) {
  const [, when, what] = REMINDER.exec(text) ?? [];
  return when ? { when, what } : null;
}

/**
 * A time as it was typed. A round without its part is one of the part that is on the needles.
 * @param {string} text
 * @param {Script} script
 * @param {number} roundsDone
 * @returns {When}
 * @throws {Error} saying what was given and what is allowed
 */
export function parseWhen(text, script, roundsDone) {
  const plain = text.trim().toLowerCase().replace(/\s+/g, " ");
  const every = EVERY.exec(plain)?.groups;
  if (every) return everyRound(every, script);
  const round = ROUND.exec(plain)?.groups;
  if (round) return oneRound(Number(round.number), partOf(round.part, script) ?? sectionAt(script, roundsDone));
  const repeat = REPEAT.exec(plain)?.groups;
  if (repeat) return ofRepeats(repeat, script);
  const length = LENGTH.exec(plain)?.groups;
  if (length) return atLength(length, script);
  throw new Error(`“${text.trim()}” is no time that is known here`);
}

/**
 * Whether it comes at a place.
 * @param {When} when
 * @param {Script} script
 * @param {number} roundsDone
 */
export function comes({ kind, value, part }, script, roundsDone) {
  if (kind === "length") {
    const along = lengths(script);
    const reached = along[part?.first ?? 0] + value - 1e-9;
    return along[roundsDone] >= reached && !(along[roundsDone - 1] >= reached);
  }
  if (roundsDone >= script.total) return false;
  const { first, key } = sectionAt(script, roundsDone);
  const number = roundsDone - first + 1;
  if (part && part.key !== key) return false;
  if (kind === "repeat") return instructionAt(script, roundsDone).chart_row === value;
  return kind === "every" ? number % value === 0 : number === value;
}

/**
 * Where it comes next, "Leg, round 12 of 66", from a place on; empty where it does not come any more.
 * @param {When} when
 * @param {Script} script
 * @param {number} roundsDone
 */
export function nextOf(when, script, roundsDone) {
  for (let place = roundsDone; place < script.total; place += 1) {
    if (comes(when, script, place)) return sectionRound(script, place);
  }
  return "";
}

/**
 * @param {Record<string, string>} found
 * @param {Script} script
 * @returns {When}
 */
function everyRound({ which = "1", part }, script) {
  const value = which === "other" ? 2 : ORDINALS.indexOf(which) + 1 || Number(which);
  const where = partOf(part, script);
  const most = Math.max(...(where ? [where] : script.sections).map(({ count }) => count));
  if (value < 1 || value > most) throw new Error(`${where ? nameOf(where) : "The longest part"} has ${most} rounds`);
  return { kind: "every", value, part: where };
}

/**
 * @param {Record<string, string>} found
 * @param {Script} script
 * @returns {When}
 */
function ofRepeats({ part }, script) {
  const value = script.pattern?.height ?? script.chart?.rows.length;
  if (!value) throw new Error("This sock has no pattern that is repeated");
  return { kind: "repeat", value, part: partOf(part, script) };
}

/**
 * @param {number} value
 * @param {Section} part
 * @returns {When}
 */
function oneRound(value, part) {
  const many = `${nameOf(part)} has ${part.count} ${part.flat ? "rows" : "rounds"}`;
  if (value < 1 || value > part.count) throw new Error(many);
  return { kind: "round", value, part };
}

/**
 * @param {Record<string, string>} found
 * @param {Script} script
 * @returns {When}
 */
function atLength({ long, unit, part }, script) {
  const value = (parseNumber(long) ?? Number.NaN) * CM[unit === "cm" ? "cm" : "in"];
  const where = partOf(part, script);
  const along = lengths(script);
  const [start, end] = where ? [where.first, where.first + where.count] : [0, script.total];
  const most = along[end] - along[start];
  if (!(value > 0 && value <= most)) {
    throw new Error(`${where ? nameOf(where) : "The sock"} is ${showLength(most, unit === "cm" ? "cm" : "in")} long`);
  }
  return { kind: "length", value, part: where };
}

/**
 * @param {string | undefined} name
 * @param {Script} script
 */
function partOf(name, { sections }) {
  if (!name) return undefined;
  const found = sections.find(({ title }) => title.toLowerCase() === name);
  if (found) return found;
  throw new Error(
    `This sock has no part “${name}”, but ${sections.map(({ title }) => title.toLowerCase()).join(", ")}`,
  );
}

/** @param {Section} part */
function nameOf({ title }) {
  return `The ${title.toLowerCase()}`;
}
