/** What a dragged thing leans to: centre lines, cut and seam edges, other motifs' points and axes. */

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Bounds} Bounds */
/** @typedef {{line: number, off: number, told: string}} Pull a line at x (or y), for what lies `off` mm from the dragged place */
/** @typedef {{through: Spot, way: Spot, told: string}} Axis a line of any direction, for the dragged place itself; `way` of length 1 */
/** @typedef {{x: Pull[], y: Pull[], axes: Axis[]}} Magnets */
/** @typedef {{x: Pull | null, y: Pull | null, axis: Axis | null}} Held */

/** mm within which a dragged part leans (common practice: about what the eye takes for the same). */
const REACH = 1.5;
/** px that the reach is at least and at most, so that it can be felt far off and does not hinder close by (own choice). */
const LEAST_PX = 4;
const MOST_PX = 16;
/** Degrees to the upright within which a turned axis says no more than the lines through the point do. */
const UPRIGHT = 0.5;

/** @type {Held} */
export const FREE = { x: null, y: null, axis: null };

/** mm within which things lean, at so many px a mm. @param {number} scale */
export function reachAt(scale) {
  return Math.min(MOST_PX, Math.max(LEAST_PX, REACH * scale)) / scale;
}

/**
 * All that a thing may lean to.
 * @param {{size: Spot, seam: number}} cloth
 * @param {Spot} at the place that is dragged, before it is
 * @param {Bounds | null} bounds of the thing, before it is dragged; null for a bare point
 * @param {{name: string, at: Spot, turn: number}[]} others
 * @returns {Magnets}
 */
export function magnets(cloth, at, bounds, others) {
  const points = others.filter((o, n) => others.findIndex((p) => p.at[0] === o.at[0] && p.at[1] === o.at[1]) === n);
  return {
    x: pulls(cloth.size[0], cloth.seam, at[0], bounds && [bounds[0], bounds[2]], points.map((o) => [o.name, o.at[0]]), ["left", "right"], "in line with"),
    y: pulls(cloth.size[1], cloth.seam, at[1], bounds && [bounds[1], bounds[3]], points.map((o) => [o.name, o.at[1]]), ["upper", "lower"], "level with"),
    axes: points.flatMap(axesOf),
  };
}

/**
 * @param {number} size
 * @param {number} seam
 * @param {number} at
 * @param {Spot | null} sides
 * @param {[string, number][]} others
 * @param {[string, string]} named the two sides
 * @param {string} beside how it is said that a point lies beside another
 * @returns {Pull[]}
 */
function pulls(size, seam, at, sides, others, named, beside) {
  const centre = { line: size / 2, off: 0, told: "on the centre line" };
  const points = others.map(([name, line]) => ({ line, off: 0, told: `${beside} ${name}` }));
  if (!sides) return [centre, ...points];
  const edges = [0, size].map((line, n) => ({ line, off: sides[n] - at, told: `${named[n]} side on the cut edge` }));
  const seams = [seam, size - seam].map((line, n) => ({ line, off: sides[n] - at, told: `${named[n]} side on the seam line` }));
  const middle = { line: size / 2, off: (sides[0] + sides[1]) / 2 - at, told: "its middle on the centre line" };
  return [centre, middle, ...edges, ...(seam ? seams : []), ...points];
}

/**
 * @param {{name: string, at: Spot, turn: number}} other
 * @returns {Axis[]}
 */
function axesOf({ name, at, turn }) {
  const off = Math.abs(((turn + 45) % 90) - 45);
  if (off < UPRIGHT || off > 90 - UPRIGHT) return [];
  const angle = (turn * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const told = `on the axis of ${name}`;
  return [{ through: at, way: [-s, c], told }, { through: at, way: [c, s], told }];
}

/**
 * A dragged place leaned to what is within reach; `held` tells to what.
 * @param {Spot} at
 * @param {Magnets} to
 * @param {number} reach mm
 * @returns {{at: Spot, held: Held}}
 */
export function leaned(at, to, reach) {
  const x = nearest(at[0], to.x, reach);
  const y = nearest(at[1], to.y, reach);
  if (x || y) return { at: [x ? x.line - x.off : at[0], y ? y.line - y.off : at[1]], held: { x, y, axis: null } };
  const axis = least(to.axes, (a) => Math.abs(offAxis(a, at)), reach);
  return axis ? { at: onAxis(axis, at), held: { x, y, axis } } : { at, held: FREE };
}

/**
 * @param {number} value
 * @param {Pull[]} all
 * @param {number} reach
 */
function nearest(value, all, reach) {
  return least(all, (pull) => Math.abs(pull.line - pull.off - value), reach);
}

/**
 * The one that is least far, if that is within reach; of equals the first.
 * @template T
 * @param {T[]} all
 * @param {(one: T) => number} far
 * @param {number} reach
 * @returns {T | null}
 */
function least(all, far, reach) {
  /** @type {T | null} */
  let best = null;
  let nearer = reach;
  for (const one of all) {
    const here = far(one);
    if (here < nearer || (here === nearer && !best)) [best, nearer] = [one, here];
  }
  return best;
}

/**
 * How far a place lies to the right of an axis.
 * @param {Axis} axis
 * @param {Spot} at
 */
function offAxis({ through, way }, at) {
  return way[0] * (at[1] - through[1]) - way[1] * (at[0] - through[0]);
}

/**
 * @param {Axis} axis
 * @param {Spot} at
 * @returns {Spot}
 */
function onAxis({ through, way }, at) {
  const along = way[0] * (at[0] - through[0]) + way[1] * (at[1] - through[1]);
  return [through[0] + along * way[0], through[1] + along * way[1]];
}
