/** Which parts are chosen when one more is pointed at, or a box is drawn about several. */

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Bounds} Bounds */

/**
 * With the name added at the end, or taken away where it was there.
 * @param {string[]} chosen
 * @param {string} name
 */
export function toggled(chosen, name) {
  return chosen.includes(name) ? chosen.filter((n) => n !== name) : [...chosen, name];
}

/**
 * The box between two corners, as bounds.
 * @param {Spot} a
 * @param {Spot} b
 * @returns {Bounds}
 */
export function boxOf(a, b) {
  return [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1])];
}

/**
 * The names of the parts that lie wholly in a box.
 * @param {{name: string, bounds: Bounds}[]} parts
 * @param {Bounds} box
 */
export function inside(parts, [left, top, right, bottom]) {
  return parts.filter(({ bounds: b }) => b[0] >= left && b[1] >= top && b[2] <= right && b[3] <= bottom).map((p) => p.name);
}

/**
 * The bounds of several; null for none.
 * @param {Bounds[]} all
 * @returns {Bounds | null}
 */
export function around(all) {
  return all.length
    ? all.reduce((a, b) => [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])])
    : null;
}
