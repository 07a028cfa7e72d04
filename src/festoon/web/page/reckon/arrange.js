/** Several things set in order: aligned, spread, in a row or a ring; and one thing begun in an arrangement. */

import { MM_PER_INCH } from "./length.js";

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Units} Units */
/** @typedef {import("../types.js").Bounds} Bounds */
/** @typedef {{name: string, at: Spot, bounds: Bounds}} Standing where a thing stands, and what it covers */
/** @typedef {{name: string, at: Spot, turn?: number}} Stand where it shall stand */
/** @typedef {"left" | "middle" | "right" | "top" | "level" | "bottom" | "plumb" | "points"} Way */

/** mm kept free of the cloth's edge by what is begun (own choice). */
const CLEAR = 2;
/** How many stand in a ring and in a row that are begun (own choice). */
const RING = 8;
const ROW = 3;
/** So much farther apart than they are wide do things stand that are set out anew (own choice). */
const AIR = 1.15;

/**
 * All in one line: by their edges, their middles, or the points that stand at their places ("plumb" one above the other,
 * "points" side by side). Edges go to the outermost, middles and points to the middle of all.
 * @param {Standing[]} all
 * @param {Way} way
 * @returns {Stand[]}
 */
export function align(all, way) {
  const axis = ["left", "middle", "right", "plumb"].includes(way) ? 0 : 1;
  const edge = edgeOf(way, axis);
  const places = all.map(edge);
  const [least, most] = [Math.min(...places), Math.max(...places)];
  const to = { left: least, top: least, right: most, bottom: most }[/** @type {string} */ (way)] ?? (least + most) / 2;
  return all.map((one, i) => moved(one, axis, to - places[i]));
}

/**
 * @param {Way} way
 * @param {0 | 1} axis
 * @returns {(one: Standing) => number}
 */
function edgeOf(way, axis) {
  if (way === "left" || way === "top") return (one) => one.bounds[axis];
  if (way === "right" || way === "bottom") return (one) => one.bounds[axis + 2];
  return way === "middle" || way === "level" ? (one) => middleOf(one, axis) : (one) => one.at[axis];
}

/**
 * Spread between the two outermost, which stay: equal gaps between them, or equal steps from middle to middle.
 * @param {Standing[]} all
 * @param {0 | 1} axis 0: across, 1: down
 * @param {"gaps" | "middles"} by
 * @returns {Stand[]} in their order along the axis
 */
export function spread(all, axis, by) {
  const order = [...all].sort((a, b) => middleOf(a, axis) - middleOf(b, axis));
  const [first, last] = [order[0], order[order.length - 1]];
  const between = order.slice(1, -1).reduce((sum, one) => sum + sizeOf(one, axis), 0);
  const gap = (last.bounds[axis] - first.bounds[axis + 2] - between) / (order.length - 1);
  const step = (middleOf(last, axis) - middleOf(first, axis)) / (order.length - 1);
  let edge = first.bounds[axis];
  return order.map((one, i) => {
    const by_ = by === "gaps" ? edge - one.bounds[axis] : middleOf(first, axis) + i * step - middleOf(one, axis);
    edge += sizeOf(one, axis) + gap;
    return moved(one, axis, i === 0 || one === last ? 0 : by_);
  });
}

/**
 * In a straight row, the middle of their places staying, in the order in which they stand along it.
 * @param {Standing[]} all
 * @param {number} spacing mm from one to the next
 * @param {number} direction degrees clockwise, 0 to the right
 * @returns {Stand[]}
 */
export function inRow(all, spacing, direction) {
  const [c, s] = [cos(direction), sin(direction)];
  const [x, y] = centreOf(all);
  const order = [...all].sort((a, b) => c * (a.at[0] - b.at[0]) + s * (a.at[1] - b.at[1]));
  return order.map(({ name }, i) => {
    const along = (i - (order.length - 1) / 2) * spacing;
    return { name, at: spot(x + along * c, y + along * s) };
  });
}

/**
 * In a ring about the middle of their places, the first at the top, clockwise in the order in which they stand about it.
 * @param {Standing[]} all
 * @param {number} radius mm
 * @param {boolean} follow whether each is turned with the ring
 * @returns {Stand[]}
 */
export function inRing(all, radius, follow) {
  const [x, y] = centreOf(all);
  const bearing = (/** @type {Standing} */ { at }) => (Math.atan2(at[0] - x, y - at[1]) * 180) / Math.PI;
  const order = [...all].sort((a, b) => ((bearing(a) + 360 + NEAR_TOP) % 360) - ((bearing(b) + 360 + NEAR_TOP) % 360));
  return order.map(({ name }, i) => {
    const turn = (360 * i) / order.length;
    const at = spot(x + radius * sin(turn), y - radius * cos(turn));
    return follow ? { name, at, turn: Math.round(turn * 1000) / 1000 } : { name, at };
  });
}

/** Degrees left of the top that still count as the top, so that what stands in a ring already keeps its order. */
const NEAR_TOP = 1e-3;

/**
 * A spacing and a radius that fit these things, to begin with.
 * @param {Standing[]} all
 * @param {Units} units
 */
export function fitting(all, units) {
  const widest = Math.max(...all.map((one) => Math.hypot(sizeOf(one, 0), sizeOf(one, 1))));
  const [x, y] = centreOf(all);
  const far = all.reduce((sum, { at }) => sum + Math.hypot(at[0] - x, at[1] - y), 0) / all.length;
  return {
    spacing: tidy(Math.max(...all.map((one) => sizeOf(one, 0))) * AIR, units),
    radius: tidy(Math.max(far, (all.length * widest) / (2 * Math.PI)), units),
  };
}

/**
 * The words that begin an arrangement of one thing, so large that it stays on the cloth.
 * @param {"row" | "ring" | "pair" | "along"} word
 * @param {Standing} one a single repeat
 * @param {Spot} at the arrangement's place
 * @param {Spot} cloth its size
 * @param {string} line a line of the cloth
 * @param {Units} units
 * @returns {Record<string, unknown>}
 */
export function begun(word, one, at, cloth, line, units) {
  const [left, top, right, bottom] = one.bounds;
  const reach = Math.hypot(Math.max(one.at[0] - left, right - one.at[0]), Math.max(one.at[1] - top, bottom - one.at[1]));
  const [x, y] = [Math.min(at[0], cloth[0] - at[0]), Math.min(at[1], cloth[1] - at[1])];
  const side = x - (right - left) / 2 - CLEAR;
  const width = (right - left) * AIR;
  const least = tidy(1, units);
  if (word === "ring") {
    const radius = Math.min(Math.min(x, y) - reach - CLEAR, (RING * 2 * reach) / (2 * Math.PI));
    return { count: RING, radius: Math.max(least, tidy(radius, units)) };
  }
  if (word === "row") return { count: ROW, spacing: Math.max(least, tidy(Math.min(width, (2 * side) / (ROW - 1)), units)) };
  if (word === "pair") return { apart: Math.max(least, tidy(Math.min(width, 2 * side), units)) };
  return { line, spacing: tidy(Math.max(width, (bottom - top) * AIR), units) };
}

/**
 * What all of these cover.
 * @param {Bounds[]} all
 * @returns {Bounds}
 */
export function around(all) {
  const least = (/** @type {0 | 1} */ i) => Math.min(...all.map((b) => b[i]));
  const most = (/** @type {2 | 3} */ i) => Math.max(...all.map((b) => b[i]));
  return [least(0), least(1), most(2), most(3)];
}

/**
 * Down to a whole millimetre, or a sixteenth of an inch.
 * @param {number} mm
 * @param {Units} units
 */
function tidy(mm, units) {
  const grain = units === "mm" ? 1 : MM_PER_INCH / 16;
  return Math.round(Math.floor(mm / grain + 1e-9) * grain * 1e4) / 1e4;
}

/** @param {Standing[]} all @returns {Spot} */
function centreOf(all) {
  const sum = all.reduce(([x, y], { at }) => [x + at[0], y + at[1]], [0, 0]);
  return [sum[0] / all.length, sum[1] / all.length];
}

/** @param {Standing} one @param {0 | 1} axis */
const middleOf = (one, axis) => (one.bounds[axis] + one.bounds[axis + 2]) / 2;
/** @param {Standing} one @param {0 | 1} axis */
const sizeOf = (one, axis) => one.bounds[axis + 2] - one.bounds[axis];

/**
 * @param {Standing} one
 * @param {0 | 1} axis
 * @param {number} by
 * @returns {Stand}
 */
function moved(one, axis, by) {
  return { name: one.name, at: axis === 0 ? spot(one.at[0] + by, one.at[1]) : spot(one.at[0], one.at[1] + by) };
}

/**
 * A place to a thousandth of a millimetre.
 * @param {number} x
 * @param {number} y
 * @returns {Spot}
 */
const spot = (x, y) => [Math.round(x * 1000) / 1000 + 0, Math.round(y * 1000) / 1000 + 0];
/** @param {number} degrees */
const cos = (degrees) => Math.cos((degrees * Math.PI) / 180);
/** @param {number} degrees */
const sin = (degrees) => Math.sin((degrees * Math.PI) / 180);
