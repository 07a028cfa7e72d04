/** The rulers: which ticks to draw, and which of them bear a number. */

import { MM_PER_INCH } from "./length.js";

/** @typedef {{at: number, label: string | null, tall: boolean}} Tick */

const LEAST_TICK = 7;
const LEAST_LABEL = 56;
const MM_STEPS = [[1, 5, 10], [5, 10, 50], [10, 50, 100], [20, 100, 200], [50, 100, 500], [100, 500, 1000], [500, 1000, 5000]];
const INCH_STEPS = [[1 / 16, 1 / 2, 1], [1 / 8, 1 / 2, 1], [1 / 4, 1, 2], [1 / 2, 1, 5], [1, 5, 10], [5, 10, 50]];

/**
 * Ticks from 0 to `length` mm on a ruler drawn at `scale` px per mm.
 * @param {number} length
 * @param {number} scale
 * @param {import("../types.js").Units} units
 * @returns {Tick[]}
 */
export function ticks(length, scale, units) {
  const unit = units === "mm" ? 1 : MM_PER_INCH;
  const steps = units === "mm" ? MM_STEPS : INCH_STEPS;
  const fits = steps.find(([small, , big]) => small * unit * scale >= LEAST_TICK && big * unit * scale >= LEAST_LABEL);
  const [small, middle, big] = fits ?? steps[steps.length - 1];
  const count = Math.floor(length / (small * unit) + 1e-9);
  return Array.from({ length: count + 1 }, (_, i) => {
    const value = i * small;
    return { at: value * unit, label: i && whole(value / big) ? `${Math.round(value)}` : null, tall: whole(value / middle) };
  });
}

/** @param {number} value */
function whole(value) {
  return Math.abs(value - Math.round(value)) < 1e-6;
}
