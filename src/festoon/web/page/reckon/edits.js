/** What a drag, a key or a blank comes to: edits of words in the piece file. */

import { MM_PER_INCH } from "./length.js";

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Units} Units */
/** @typedef {import("../types.js").Edit} Edit */
/** @typedef {import("../types.js").Element} Element */
/** @typedef {{x: string | null, y: string | null}} Held */

/** mm within which a dragged part leans to a line (common practice: about what the eye takes for the same). */
export const REACH = 1.5;
/** Degrees that one press of R turns by. */
export const TURN = 5;
/** mm or inches that an arrow key moves by, and with Shift. */
const NUDGE = { mm: [0.5, 5], inch: [0.02 * MM_PER_INCH, 0.2 * MM_PER_INCH] };
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
 * A dragged place leaned to the lines within reach; `held` names the lines.
 * @param {Spot} at
 * @param {{x: [number, string][], y: [number, string][]}} lines
 * @param {number} reach mm
 * @returns {{at: Spot, held: Held}}
 */
export function leaned(at, lines, reach = REACH) {
  const x = nearest(at[0], lines.x, reach);
  const y = nearest(at[1], lines.y, reach);
  return { at: [x ? x[0] : at[0], y ? y[0] : at[1]], held: { x: x ? x[1] : null, y: y ? y[1] : null } };
}

/**
 * @param {number} value
 * @param {[number, string][]} lines
 * @param {number} reach
 */
function nearest(value, lines, reach) {
  const near = lines.filter(([line]) => Math.abs(line - value) <= reach);
  return near.sort((a, b) => Math.abs(a[0] - value) - Math.abs(b[0] - value))[0] ?? null;
}

/**
 * The lines of a panel that a dragged place leans to: both centre lines, and those of the other elements' places.
 * @param {Spot} size
 * @param {{name: string, at: Spot}[]} others
 * @returns {{x: [number, string][], y: [number, string][]}}
 */
export function leaningLines(size, others) {
  return {
    x: [[size[0] / 2, "the centre line"], ...others.map((o) => /** @type {[number, string]} */ ([o.at[0], `the middle of ${o.name}`]))],
    y: [[size[1] / 2, "the centre line"], ...others.map((o) => /** @type {[number, string]} */ ([o.at[1], `the middle of ${o.name}`]))],
  };
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
 * @param {number} value
 * @param {Units} units
 */
function onGrain(value, units) {
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
  const step = NUDGE[units][far ? 1 : 0];
  /** @type {Record<string, Spot>} */
  const ways = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] };
  return ways[key] ?? null;
}

/**
 * A turn brought into -180 (not itself) to 180 degrees.
 * @param {number} degrees
 */
export function withinTurn(degrees) {
  const turn = ((degrees % 360) + 360) % 360;
  return turn > 180 ? turn - 360 : turn;
}
