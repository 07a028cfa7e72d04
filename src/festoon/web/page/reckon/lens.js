/** What a lens shows: the sheet enlarged about a place, and of the thread only what lies under the glass. */

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("./stitches.js").Laid} Laid */

/** How many times closer the lens shows the sheet. */
export const CLOSER = 4;

/**
 * The view within the glass: `at` in its middle.
 * @param {import("./view.js").View} view of the sheet
 * @param {Spot} at mm
 * @param {number} across px of the glass
 * @returns {import("./view.js").View}
 */
export function under(view, at, across) {
  const scale = view.scale * CLOSER;
  return { scale, x: across / 2 - scale * at[0], y: across / 2 - scale * at[1] };
}

/**
 * A place moved, kept on the cloth.
 * @param {Spot} at mm
 * @param {Spot} by mm
 * @param {Spot} size of the cloth, mm
 * @returns {Spot}
 */
export function movedOn(at, by, size) {
  return [clamped(at[0] + by[0], size[0]), clamped(at[1] + by[1], size[1])];
}

/**
 * The stitches that come within `reach` mm of a place, right or left, up or down.
 * @param {Laid} laid
 * @param {Spot} at mm
 * @param {number} reach mm
 * @returns {Laid}
 */
export function within(laid, [x, y], reach) {
  const { segments, colours, parts, count } = laid;
  const kept = [];
  for (let i = 0; i < count; i += 1) {
    const [x0, y0, x1, y1] = [segments[4 * i], segments[4 * i + 1], segments[4 * i + 2], segments[4 * i + 3]];
    const beside = (x0 < x - reach && x1 < x - reach) || (x0 > x + reach && x1 > x + reach);
    if (!beside && !((y0 < y - reach && y1 < y - reach) || (y0 > y + reach && y1 > y + reach))) kept.push(i);
  }
  const few = { ...laid, segments: new Float32Array(4 * kept.length), colours: new Uint8Array(4 * kept.length), parts: new Uint16Array(kept.length), count: kept.length };
  kept.forEach((i, n) => {
    few.segments.set(segments.subarray(4 * i, 4 * i + 4), 4 * n);
    few.colours.set(colours.subarray(4 * i, 4 * i + 4), 4 * n);
    few.parts[n] = parts[i];
  });
  return few;
}

/**
 * @param {number} value
 * @param {number} most
 */
function clamped(value, most) {
  return Math.min(most, Math.max(0, value));
}
