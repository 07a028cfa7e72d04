/** The thread as pictures in layers: what lies still below the parts that move, these, and what lies still above them. */

import { after, carriedTo, matrixOf, seenBy, STATE, STILL, undone } from "./carry.js";
import { around } from "./choice.js";

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Bounds} Bounds */
/** @typedef {import("../types.js").Part} Part */
/** @typedef {import("./carry.js").Carry} Carry */
/** @typedef {import("./carry.js").Matrix} Matrix */
/** @typedef {import("./view.js").View} View */

/**
 * One picture to be drawn: the parts that belong on it (places in the piece), those of them that lie in the stretch of the
 * window that it shows (px), and how each part is carried and how opaque it is; `carries` for those that move.
 * @typedef {{view: View, window: Bounds, all: number[], parts: number[], carries: (Carry | null)[], states: Float32Array}} Picture
 */

/** How opaque the pale copy is that stays where a part was. */
const PALE = 0.14;
/** px beyond the window that a still picture shows, so that moving the sheet does not at once come to its end. */
const BEYOND = 96;
/** px around a moving part that its thread and a turn may need. */
const ROUND = 8;

/**
 * @param {Part[]} parts all of the piece
 * @param {Float32Array} states of all, standing still
 * @param {(part: Part) => Carry | null} carried
 * @param {View} view
 * @param {Spot} box the window's size, px
 * @returns {{under: Picture, moving: Picture | null, over: Picture | null}}
 */
export function layered(parts, states, carried, view, box) {
  const carries = parts.map(carried);
  const lowest = carries.findIndex((carry) => carry !== null);
  /** @type {Bounds} */
  const window = [-BEYOND, -BEYOND, box[0] + BEYOND, box[1] + BEYOND];
  const every = [...parts.keys()];
  const still = (/** @type {number[]} */ all, /** @type {Float32Array} */ told) => {
    const seen = all.filter((n) => told[STATE * n + 6] > 0 && meets(onScreen(view, parts[n].bounds), window));
    return { view, window, all, parts: seen, carries: [], states: told };
  };
  if (lowest < 0) return { under: still(every, states), moving: null, over: null };
  const pale = states.slice();
  for (const n of every) if (carries[n]) pale[STATE * n + 6] *= PALE;
  return {
    under: still(every.filter((n) => n < lowest || carries[n]), pale),
    moving: movingPicture(parts, states, carries, view, box),
    over: still(every.filter((n) => n > lowest && !carries[n]), states),
  };
}

/**
 * @param {Part[]} parts
 * @param {Float32Array} states
 * @param {(Carry | null)[]} carries
 * @param {View} view
 * @param {Spot} box
 * @returns {Picture}
 */
function movingPicture(parts, states, carries, view, box) {
  const own = [...parts.keys()].filter((n) => carries[n] && states[STATE * n + 6] > 0);
  const told = states.slice();
  for (const n of own) told.set(matrixOf(carries[n]), STATE * n);
  // What is dragged may come from outside the window: a window all round is drawn along.
  const reach = /** @type {Bounds} */ ([-box[0], -box[1], 2 * box[0], 2 * box[1]]);
  const whole = around(own.map((n) => onScreen(view, carriedBounds(matrixOf(carries[n]), parts[n].bounds)))) ?? reach;
  const window = /** @type {Bounds} */ (whole.map((v, n) => (n < 2 ? Math.max(reach[n], Math.floor(v - ROUND)) : Math.min(reach[n], Math.ceil(v + ROUND)))));
  return { view, window, all: own, parts: own, carries: own.map((n) => carries[n]), states: told };
}

/**
 * Whether a picture still shows the parts as they are to be shown, wherever it lies.
 * @param {Picture | null} shown
 * @param {Picture} wanted
 */
export function alike(shown, wanted) {
  return shown !== null && sameList(shown.all, wanted.all) && shown.all.every((n) => sameLook(shown.states, wanted.states, n));
}

/**
 * Whether a picture that is alike need not be drawn again: seen from as near, nothing has turned, and its end is not near.
 * @param {Picture} shown
 * @param {Picture} wanted
 */
export function holds(shown, wanted) {
  const sharp = shown.view.scale === wanted.view.scale && shown.carries.every((carry, n) => carry?.turn === wanted.carries[n]?.turn);
  if (!sharp || shown.carries.length) return sharp;
  const off = Math.max(Math.abs(shown.view.x - wanted.view.x), Math.abs(shown.view.y - wanted.view.y));
  return off <= BEYOND / 2 && sameList(shown.window, wanted.window);
}

/**
 * The matrix that brings a picture's own px to where it is now wanted on the screen.
 * @param {Picture} shown
 * @param {View} view
 * @param {(Carry | null)[]} carries now, of the picture's parts
 * @returns {Matrix}
 */
export function placing(shown, view, carries) {
  const moved = common(shown.carries.map((was, n) => after(matrixOf(carries[n] ?? null), undone(matrixOf(was)))));
  return after(after(seenBy(view), moved), undone(seenBy(shown.view)));
}

/**
 * The matrix that all share; where each goes its own way, none.
 * @param {Matrix[]} all
 * @returns {Matrix}
 */
function common(all) {
  const same = all.length > 0 && all.every((m) => m.every((v, k) => Math.abs(v - all[0][k]) < 1e-6));
  return same ? all[0] : STILL;
}

/**
 * @param {Matrix} matrix
 * @param {Bounds} bounds
 * @returns {Bounds}
 */
function carriedBounds(matrix, [left, top, right, bottom]) {
  const corners = /** @type {Spot[]} */ ([[left, top], [right, top], [right, bottom], [left, bottom]]).map((spot) => carriedTo(matrix, spot));
  return /** @type {Bounds} */ (around(corners.map(([x, y]) => [x, y, x, y])));
}

/**
 * @param {View} view
 * @param {Bounds} bounds mm
 * @returns {Bounds} px
 */
function onScreen(view, bounds) {
  return carriedBounds(seenBy(view), bounds);
}

/**
 * @param {Bounds} a
 * @param {Bounds} b
 */
function meets(a, b) {
  return a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
}

/**
 * @param {Float32Array} a
 * @param {Float32Array} b
 * @param {number} n
 */
function sameLook(a, b, n) {
  return a[STATE * n + 6] === b[STATE * n + 6];
}

/**
 * @param {number[]} a
 * @param {number[]} b
 */
function sameList(a, b) {
  return a.length === b.length && a.every((v, n) => v === b[n]);
}
