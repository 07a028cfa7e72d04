/** How parts are carried while the hand has them: turned about a place, then moved; and the same as matrices. */

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Part} Part */
/** @typedef {{shift: Spot, turn: number, about: Spot}} Carry turned by degrees clockwise about a place, then moved by mm */
/**
 * @typedef {[number, number, number, number, number, number]} Matrix as SVG and CSS write it: x' = a x + c y + e,
 *   y' = b x + d y + f
 */

/** @type {Matrix} */
export const STILL = [1, 0, 0, 1, 0, 0];
/** Numbers that the thread is told of each part: the matrix that carries it, how opaque it is, and one unused. */
export const STATE = 8;

/**
 * @param {Carry | null} carry
 * @returns {Matrix}
 */
export function matrixOf(carry) {
  if (!carry) return STILL;
  const angle = (carry.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const [x, y] = carry.about;
  return [c, s, -s, c, x + carry.shift[0] - c * x + s * y, y + carry.shift[1] - s * x - c * y];
}

/**
 * @param {Matrix} m
 * @param {Spot} spot
 * @returns {Spot}
 */
export function carriedTo([a, b, c, d, e, f], [x, y]) {
  return [a * x + c * y + e, b * x + d * y + f];
}

/**
 * The matrix that does `first`, then `then`.
 * @param {Matrix} then
 * @param {Matrix} first
 * @returns {Matrix}
 */
export function after(then, first) {
  const [a, b, c, d, e, f] = then;
  const [g, h, i, j, k, l] = first;
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}

/**
 * @param {Matrix} m
 * @returns {Matrix}
 */
export function undone([a, b, c, d, e, f]) {
  const area = a * d - b * c;
  return [d / area, -b / area, -c / area, a / area, (c * f - d * e) / area, (b * e - a * f) / area];
}

/**
 * A view as a matrix: mm to px.
 * @param {import("./view.js").View} view
 * @returns {Matrix}
 */
export function seenBy({ scale, x, y }) {
  return [scale, 0, 0, scale, x, y];
}

/** A matrix as SVG and CSS read it. @param {Matrix} m */
export function written(m) {
  return `matrix(${m.map((v) => Math.round(v * 1e5) / 1e5).join(",")})`;
}

/**
 * What the thread is told of all parts: STATE numbers each.
 * @param {Part[]} parts
 * @param {(part: Part) => number} strength 0 to 1
 * @param {(part: Part) => Carry | null} carried
 */
export function statesOf(parts, strength, carried = () => null) {
  const states = new Float32Array(STATE * Math.max(1, parts.length));
  parts.forEach((part, n) => {
    states.set(matrixOf(carried(part)), STATE * n);
    states[STATE * n + 6] = strength(part);
  });
  return states;
}

/**
 * Degrees clockwise from one direction to another, seen from a place.
 * @param {Spot} about
 * @param {Spot} from
 * @param {Spot} to
 */
export function turnBetween(about, from, to) {
  const [a, b] = [from, to].map(([x, y]) => Math.atan2(y - about[1], x - about[0]));
  return ((b - a) * 180) / Math.PI;
}

/**
 * The place so far from another, in a direction: 0 is up, clockwise.
 * @param {Spot} about
 * @param {number} degrees
 * @param {number} far
 * @returns {Spot}
 */
export function towards(about, degrees, far) {
  const angle = (degrees * Math.PI) / 180;
  return [about[0] + far * Math.sin(angle), about[1] - far * Math.cos(angle)];
}
