/** Handles: what a drag of one does to its word. */

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Handle} Handle */

/**
 * The length that a handle stands for after it has been dragged, before it is rounded.
 * @param {Handle & {along: Spot, value: number}} handle
 * @param {Spot} by mm that it was dragged by
 */
export function lengthAt(handle, by) {
  return handle.value + by[0] * handle.along[0] + by[1] * handle.along[1];
}

/**
 * Where a handle lies when its length is `value`: it moves along its own way only.
 * @param {Handle & {along: Spot, value: number}} handle
 * @param {number} value
 * @returns {Spot}
 */
export function placeAt({ at, along, value: now }, value) {
  const times = (value - now) / (along[0] ** 2 + along[1] ** 2);
  return [at[0] + times * along[0], at[1] + times * along[1]];
}

/**
 * Whether a handle's word is a length, which it moves along its own way.
 * @param {Handle} handle
 * @returns {handle is Handle & {along: Spot, value: number}}
 */
export function isLength(handle) {
  return handle.along !== null && handle.value !== null;
}

/**
 * Whether places in order close to a ring: from the last to the first it is as far as from one to the next.
 * @param {Spot[]} places
 */
export function isRing(places) {
  if (places.length < 3) return false;
  const far = places.map((p, n) => distance(p, places[(n + 1) % places.length]));
  return Math.max(...far) - Math.min(...far) < 0.01 * Math.max(...far);
}

/**
 * @param {Spot} a
 * @param {Spot} b
 */
export function distance(a, b) {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
