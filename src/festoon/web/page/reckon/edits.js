/** What a drag, a key or a blank comes to: edits of words in the piece file. */

import { MM_PER_INCH, STEPS } from "./length.js";

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Units} Units */
/** @typedef {import("../types.js").Edit} Edit */
/** @typedef {import("../types.js").Element} Element */

/** Degrees that one press of R turns by. */
export const TURN = 5;
/** mm to which a drag is rounded: a tenth of a millimetre, or a sixty-fourth of an inch. */
const GRAIN = { mm: 0.1, inch: MM_PER_INCH / 64 };

/**
 * Where the element stands: the handle that moves its word "at"; null where it cannot be moved as a whole.
 * @param {Element} element
 * @returns {Spot | null}
 */
export function standsAt(element) {
  return element.handles.find((handle) => handle.word === "at")?.at ?? null;
}

/**
 * A place rounded to what the hand can set.
 * @param {Spot} at
 * @param {Units} units
 * @returns {Spot}
 */
export function settled(at, units) {
  return [onGrain(at[0], units), onGrain(at[1], units)];
}

/**
 * A length rounded to what the hand can set.
 * @param {number} value
 * @param {Units} units
 */
export function onGrain(value, units) {
  return Math.round(Math.round(value / GRAIN[units]) * GRAIN[units] * 1000) / 1000;
}

/**
 * @param {string} element
 * @param {string} word
 * @param {unknown} value
 * @returns {Edit}
 */
export function set(element, word, value) {
  return { do: "set", element, word, value };
}

/**
 * How far a key moves the chosen element; null for any other key.
 * @param {string} key
 * @param {boolean} far
 * @param {Units} units
 * @returns {Spot | null}
 */
export function nudge(key, far, units) {
  const step = STEPS[units][far ? 1 : 0];
  /** @type {Record<string, Spot>} */
  const ways = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] };
  return ways[key] ?? null;
}

/**
 * The blank in which an element says a word; null where its sentences do not.
 * @param {Element} element
 * @param {string} word
 */
export function gapOf(element, word) {
  return element.sentences.flatMap((sentence) => sentence.gaps).find((gap) => gap.word === word) ?? null;
}

/**
 * Degrees that an element is turned by, where it can be turned; null where not.
 * @param {Element} element
 */
export function turnOf(element) {
  const value = gapOf(element, "turn")?.value;
  return typeof value === "number" ? value : null;
}

/**
 * A turn brought into -180 (not itself) to 180 degrees.
 * @param {number} degrees
 */
export function withinTurn(degrees) {
  const turn = ((degrees % 360) + 360) % 360;
  return turn > 180 ? turn - 360 : turn;
}
