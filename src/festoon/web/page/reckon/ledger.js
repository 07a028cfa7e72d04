/** The ledger's sentences: their blanks, what may be written into one, and what that means in the piece file. */

import { lengthNumber, plainNumber, readLength, readNumber, unitWord } from "./length.js";

/** @typedef {import("../types.js").Gap} Gap */
/** @typedef {import("../types.js").Units} Units */
/** @typedef {"length" | "place" | "angle" | "number" | "words"} Kind */
/** @typedef {{text: string, gap: Gap | null}} Run */
/** @typedef {{value: unknown} | {sentence: string}} Written */

const DEGREES = /(°|degrees?)$/;
const LENGTH = /\s(mm|in)$/;
const PLACE = /(mm|in) right, .*(mm|in) down$/;

/**
 * A sentence as runs of plain ink and blanks, in order.
 * @param {import("../types.js").Sentence} sentence
 * @returns {Run[]}
 */
export function runs(sentence) {
  const gaps = new Map(sentence.gaps.map((gap) => [gap.gap, gap]));
  return sentence.text
    .split(/(\{\w+\})/)
    .filter(Boolean)
    .map((text) => ({ text, gap: text.startsWith("{") ? gaps.get(text.slice(1, -1)) ?? null : null }));
}

/**
 * What kind of thing stands in a blank.
 * @param {Gap} gap
 * @returns {Kind}
 */
export function kindOf(gap) {
  if (PLACE.test(gap.shown)) return "place";
  if (DEGREES.test(gap.shown)) return "angle";
  if (LENGTH.test(gap.shown)) return "length";
  return typeof gap.value === "number" ? "number" : "words";
}

/**
 * The text of a blank, and the ink after it that tells its unit.
 * @param {Gap} gap
 * @param {Units} units
 * @returns {{text: string, after: string}}
 */
export function inBlank(gap, units) {
  switch (kindOf(gap)) {
    case "length":
      return { text: typeof gap.value === "number" ? lengthNumber(gap.value, units) : gap.shown.replace(LENGTH, ""), after: unitWord(units) };
    case "angle":
      return { text: typeof gap.value === "number" ? plainNumber(gap.value, 1) : gap.shown.replace(DEGREES, "").trim(), after: "degrees" };
    default:
      return { text: gap.shown, after: "" };
  }
}

/**
 * What was typed into a blank, as a value for the piece file, or a sentence on why it cannot be.
 * @param {Kind} kind
 * @param {string} text
 * @param {Units} units
 * @returns {Written}
 */
export function written(kind, text, units) {
  if (kind === "words") return text.trim() ? { value: text.trim() } : { sentence: "This blank cannot stay empty." };
  if (kind === "length") {
    const mm = readLength(text, units);
    if (Number.isNaN(mm)) return { sentence: `“${text}” is not a length. Write it as 42, 1,5 or 1 5/8.` };
    return { value: lengthValue(text, mm, units) };
  }
  const number = readNumber(text.replace(DEGREES, ""));
  return Number.isNaN(number) ? { sentence: `“${text}” is not a number. Write it as 15 or 1,5.` } : { value: number };
}

/**
 * How a length is written into the piece file: millimetres as a number, inches as they were typed, so that 1 5/8 stays.
 * @param {string} text
 * @param {number} mm
 * @param {Units} units
 * @returns {number | string}
 */
function lengthValue(text, mm, units) {
  const plain = text.trim();
  if (units === "inch" && !/[a-z"″]/i.test(plain)) return `${plain} in`;
  return Math.round(mm * 1000) / 1000;
}

/**
 * The next value up or down from a blank, as the text to stand in it.
 * @param {Kind} kind
 * @param {string} text
 * @param {Units} units
 * @param {number} steps signed; ten for a long step
 */
export function stepped(kind, text, units, steps) {
  if (kind === "length") {
    const step = units === "mm" ? 0.5 : 25.4 / 16;
    const mm = readLength(text, units);
    return Number.isNaN(mm) ? text : lengthNumber(mm + steps * step, units);
  }
  const number = readNumber(text);
  return kind === "words" || Number.isNaN(number) ? text : plainNumber(number + steps, 1);
}

/**
 * @param {unknown} value
 * @returns {value is import("../types.js").Spot}
 */
export function isSpot(value) {
  return Array.isArray(value) && value.length === 2 && value.every((v) => typeof v === "number");
}
