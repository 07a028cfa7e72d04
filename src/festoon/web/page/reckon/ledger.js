/** The ledger's sentences: their blanks, what may be written into one, and what that means in the piece file. */

import { FINE, lengthNumber, plainNumber, readLength, readNumber, STEPS, unitWord } from "./length.js";

/** @typedef {import("../types.js").Gap} Gap */
/** @typedef {import("../types.js").Kind} Kind */
/** @typedef {import("../types.js").Units} Units */
/** @typedef {{text: string, gap: Gap | null, tail: string}} Run `tail`: the stop or comma behind a blank */
/** @typedef {{value: unknown} | {sentence: string}} Written */

export const AS_USUAL = "as usual";
const DEGREES = /\s*(°|degrees?)$/;
/** What an arrow key changes a blank by, and with Shift; lengths are in `STEPS`. */
const BY = { angle: [1, 5], number: [1, 10], count: [1, 10] };

/**
 * A sentence as runs of plain ink and blanks, in order.
 * @param {import("../types.js").Sentence} sentence
 * @returns {Run[]}
 */
export function runs(sentence) {
  const gaps = new Map(sentence.gaps.map((gap) => [gap.gap, gap]));
  return sentence.text
    .split(/(\{\w+\}[.,;:]?)/)
    .filter(Boolean)
    .map((text) => {
      const [, name, tail] = /^\{(\w+)\}(.?)$/.exec(text) ?? [];
      const gap = gaps.get(name) ?? null;
      return { text, gap, tail: gap ? tail : "" };
    });
}

/**
 * A gap that no sentence of the server's has: of the piece, a panel, or something that is only asked here.
 * @param {string} gap its name, for people
 * @param {Kind} kind
 * @param {unknown} value
 * @param {Partial<Gap>} [more]
 * @returns {Gap}
 */
export function gapOf(gap, kind, value, more = {}) {
  return { gap, word: gap, value, shown: String(value ?? ""), kind, choices: [], usual: false, ...more };
}

/**
 * Whether it is filled in by choosing: one of what may stand there.
 * @param {Gap} gap
 */
export function isChosen(gap) {
  return gap.kind === "choice" || gap.kind === "yes/no" || gap.choices.length > 0;
}

/**
 * What may be chosen in a blank, and which of it holds; `value` as it is told apart, `told` as it is read. What stands
 * there although it is none of the choices can stay.
 * @param {Gap} gap
 * @returns {{value: string, told: string, chosen: boolean}[]}
 */
export function choicesOf(gap) {
  const now = gap.value === null ? "" : gap.kind === "yes/no" ? (gap.value ? "yes" : "no") : gap.shown;
  const listed = gap.kind === "yes/no" ? ["yes", "no"] : gap.choices;
  const all = [...(gap.usual ? [""] : []), ...(now === "" || listed.includes(now) ? [] : [now]), ...listed];
  return all.map((value) => ({ value, told: value || AS_USUAL, chosen: value === now }));
}

/**
 * The text of a blank, and the ink after it that tells its unit; empty where it says nothing and the usual holds.
 * @param {Gap} gap
 * @param {Units} units
 * @returns {{text: string, after: string}}
 */
export function inBlank(gap, units) {
  if (gap.value === null) return { text: "", after: "" };
  if (typeof gap.value === "number" && gap.kind === "length") return { text: lengthNumber(gap.value, units, FINE), after: unitWord(units) };
  if (typeof gap.value === "number" && gap.kind === "angle") return { text: plainNumber(gap.value, FINE), after: gap.value === 1 ? "degree" : "degrees" };
  return { text: gap.shown, after: "" };
}

/**
 * What was written into a blank, or chosen there, as a value for the piece file, or a sentence on why it cannot be.
 * @param {Gap} gap
 * @param {string} text
 * @param {Units} units
 * @returns {Written}
 */
export function written(gap, text, units) {
  const plain = text.trim();
  if (!plain) return gap.usual ? { value: null } : { sentence: "This blank cannot stay empty." };
  if (gap.kind === "yes/no") return { value: plain === "yes" };
  if (gap.kind === "length") {
    const mm = readLength(plain, units);
    return Number.isNaN(mm) ? { sentence: `“${plain}” is not a length. Write it as 42, 1,5 or 1 5/8.` } : { value: lengthValue(plain, mm, units) };
  }
  if (gap.kind !== "angle" && gap.kind !== "number" && gap.kind !== "count") return { value: plain };
  const number = readNumber(plain.replace(DEGREES, ""));
  if (Number.isNaN(number)) return { sentence: `“${plain}” is not a number. Write it as 15 or 1,5.` };
  return gap.kind === "count" && !Number.isInteger(number) ? { sentence: `${plain} is no whole number.` } : { value: number };
}

/**
 * How a length is written into the piece file: millimetres as a number, inches as they were typed, so that 1 5/8 stays.
 * @param {string} text
 * @param {number} mm
 * @param {Units} units
 * @returns {number | string}
 */
function lengthValue(text, mm, units) {
  if (units === "inch" && !/[a-z"″]/i.test(text)) return `${text} in`;
  return Math.round(mm * 1000) / 1000;
}

/**
 * The next value up or down from a blank, as the text to stand in it.
 * @param {Kind} kind
 * @param {string} text
 * @param {Units} units
 * @param {1 | -1} way
 * @param {boolean} far
 */
export function stepped(kind, text, units, way, far) {
  if (kind === "length") {
    const mm = readLength(text, units);
    return Number.isNaN(mm) ? text : lengthNumber(mm + way * STEPS[units][far ? 1 : 0], units, FINE);
  }
  const by = kind === "angle" || kind === "number" || kind === "count" ? BY[kind] : null;
  const number = readNumber(text.replace(DEGREES, ""));
  return !by || Number.isNaN(number) ? text : plainNumber(number + way * by[far ? 1 : 0], FINE);
}

/**
 * @param {unknown} value
 * @returns {value is import("../types.js").Spot}
 */
export function isSpot(value) {
  return Array.isArray(value) && value.length === 2 && value.every((v) => typeof v === "number");
}
