/** Shapes for the sheet: rings, hoops and ellipses as SVG path data and numbers. */

/** @typedef {import("../types.js").Spot} Spot */

/** @type {WeakMap<Spot[][], {rings: string, hull: string}>} */
const drawn = new WeakMap();

/**
 * Path data of an outline's rings and of its convex hull; worked out once for each outline.
 * @param {Spot[][]} outline
 */
export function pathsOf(outline) {
  const known = drawn.get(outline) ?? { rings: ringsPath(outline), hull: linePath(hull(outline.flat()), true) };
  drawn.set(outline, known);
  return known;
}

/**
 * Path data of closed rings.
 * @param {Spot[][]} rings
 */
export function ringsPath(rings) {
  return rings.map((ring) => `M${ring.map(([x, y]) => `${round(x)} ${round(y)}`).join("L")}Z`).join("");
}

/**
 * The convex hull of all points, in order round it (Andrew's monotone chain).
 * @param {Spot[]} points
 * @returns {Spot[]}
 */
export function hull(points) {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  return sorted.length < 3 ? sorted : [...chain(sorted), ...chain(sorted.reverse())];
}

/** @param {Spot[]} sorted */
function chain(sorted) {
  /** @type {Spot[]} */
  const kept = [];
  for (const p of sorted) {
    while (kept.length > 1 && cross(kept[kept.length - 2], kept[kept.length - 1], p) <= 0) kept.pop();
    kept.push(p);
  }
  return kept.slice(0, -1);
}

/**
 * @param {Spot} o
 * @param {Spot} a
 * @param {Spot} b
 */
function cross(o, a, b) {
  return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
}

/**
 * Path data of a line.
 * @param {Spot[]} points
 * @param {boolean} closed
 */
export function linePath(points, closed) {
  return points.length ? `M${points.map(([x, y]) => `${round(x)} ${round(y)}`).join("L")}${closed ? "Z" : ""}` : "";
}

/**
 * The middle of bounds (left, top, right, bottom).
 * @param {[number, number, number, number]} bounds
 * @returns {Spot}
 */
export function middle([left, top, right, bottom]) {
  return [(left + right) / 2, (top + bottom) / 2];
}

/**
 * The ellipse that holds a normal spread 19 times in 20: radii and turn (degrees) from a 2 x 2 covariance.
 * The squared radius is the eigenvalue times the chi-square of 2 degrees of freedom at 0.95, -2 ln 0.05.
 * @param {number[][]} covariance
 */
export function ellipse([[a, b], [, d]]) {
  const mean = (a + d) / 2;
  const spread = Math.hypot((a - d) / 2, b);
  const k = Math.sqrt(-2 * Math.log(0.05));
  return {
    long: k * Math.sqrt(mean + spread),
    short: k * Math.sqrt(Math.max(0, mean - spread)),
    turn: (Math.atan2(2 * b, a - d) * 90) / Math.PI,
  };
}

/**
 * A point of the hoop's own axes on the panel.
 * @param {{centre: Spot, turn: number}} hooping
 * @param {Spot} at mm from the middle of the field
 * @returns {Spot}
 */
export function onPanel(hooping, [u, v]) {
  const angle = (hooping.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [hooping.centre[0] + c * u - s * v, hooping.centre[1] + s * u + c * v];
}

/** @param {number} value */
function round(value) {
  return Math.round(value * 100) / 100;
}
