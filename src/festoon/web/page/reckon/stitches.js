/** The stitching as it travels: one binary record for the whole piece, read without copying. */

/** @typedef {{count: number, points: Float32Array, acts: Uint8Array, threads: Uint8Array}} Stitches */
/**
 * The thread that lies on the cloth, stitch by stitch in sewing order: x, y of both ends; red, green, blue and 255; the
 * place of its part in the piece. `firsts`: at which stitch each part begins, and at the end how many there are.
 * @typedef {{segments: Float32Array, colours: Uint8Array, parts: Uint16Array, firsts: Uint32Array, count: number}} Laid
 */

/** mm, of an embroidery thread of 120/2 denier as it lies on cloth (common practice). */
export const THREAD_WIDTH = 0.4;

const HEAD = 12;
const RECORD = 10;
const STITCH = 0;
const BLACK = [0, 0, 0];
/** Grains that a stitch is drawn on for at most, so that a bend is not smoothed away little by little (own choice). */
const LONGEST_RUN = 4;

/**
 * Reads "FSTN", version 1, count, then all points (float32 x, y), all acts and all thread indices (uint8 each).
 * @param {ArrayBuffer} buffer
 * @returns {Stitches}
 */
export function readStitches(buffer) {
  const head = new DataView(buffer);
  const mark = buffer.byteLength >= HEAD ? String.fromCharCode(...new Uint8Array(buffer, 0, 4)) : "";
  if (mark !== "FSTN" || head.getUint32(4, true) !== 1) {
    throw new Error("The stitching came in a form that this page does not know. Load the page again.");
  }
  const count = head.getUint32(8, true);
  if (buffer.byteLength !== HEAD + count * RECORD) {
    throw new Error("The stitching did not come whole. Load the page again.");
  }
  return {
    count,
    points: new Float32Array(buffer, HEAD, 2 * count),
    acts: new Uint8Array(buffer, HEAD + 8 * count, count),
    threads: new Uint8Array(buffer, HEAD + 9 * count, count),
  };
}

/**
 * The thread that lies on the cloth: straight lines between two stitches of one thread of one part.
 * @param {Stitches} stitches
 * @param {Pick<import("../types.js").Part, "first" | "count" | "threads">[]} parts
 * @returns {Laid}
 */
export function laidThread(stitches, parts) {
  const { points, acts, threads } = stitches;
  const laid = emptyLaid(parts.reduce((sum, part) => sum + part.count, 0), parts.length);
  parts.forEach((part, index) => {
    const palette = part.threads.map((thread) => rgb(thread.colour));
    laid.firsts[index] = laid.count;
    for (let i = part.first + 1; i < part.first + part.count; i += 1) {
      if (acts[i] !== STITCH || acts[i - 1] !== STITCH || threads[i] !== threads[i - 1]) continue;
      const [red, green, blue] = palette[threads[i]] ?? BLACK;
      addTo(laid, points[2 * i - 2], points[2 * i - 1], points[2 * i], points[2 * i + 1], red, green, blue, index);
    }
  });
  return closed(laid);
}

/**
 * The same thread for a look from afar: a stitch that would be drawn over the one drawn last is left out, and short ones
 * that run on nearly straight are drawn as one. Both to about `grain` mm: no thread lies farther from what is drawn.
 * @param {Laid} laid
 * @param {number} grain mm
 * @returns {Laid}
 */
export function thinned(laid, grain) {
  const { segments: s, colours, parts } = laid;
  const thin = emptyLaid(laid.count, laid.firsts.length - 1);
  const t = thin.segments;
  for (let i = 0; i < laid.count; i += 1) {
    const k = 4 * (thin.count - 1);
    const own = parts[i];
    if (thin.count && thin.parts[thin.count - 1] === own && sameColour(colours, 4 * i, thin.colours, k)) {
      if (covers(t, k, s, 4 * i, grain)) continue;
      if (runsOn(t, k, s, 4 * i, grain)) {
        t[k + 2] = s[4 * i + 2];
        t[k + 3] = s[4 * i + 3];
        continue;
      }
    } else for (let part = thin.count ? thin.parts[thin.count - 1] + 1 : 0; part <= own; part += 1) thin.firsts[part] = thin.count;
    addTo(thin, s[4 * i], s[4 * i + 1], s[4 * i + 2], s[4 * i + 3], colours[4 * i], colours[4 * i + 1], colours[4 * i + 2], own);
  }
  for (let part = thin.count ? thin.parts[thin.count - 1] + 1 : 0; part < thin.firsts.length; part += 1) thin.firsts[part] = thin.count;
  return closed(thin);
}

/**
 * Whether both ends of a stitch lie within `grain` of the ends of the kept one, either way round.
 * @param {Float32Array} t
 * @param {number} k
 * @param {Float32Array} s
 * @param {number} i
 * @param {number} grain
 */
function covers(t, k, s, i, grain) {
  return (near(t, k, s, i, grain) && near(t, k + 2, s, i + 2, grain)) || (near(t, k, s, i + 2, grain) && near(t, k + 2, s, i, grain));
}

/**
 * Whether a stitch runs on from the kept one so that their meeting lies within half a grain of the straight way.
 * @param {Float32Array} t
 * @param {number} k
 * @param {Float32Array} s
 * @param {number} i
 * @param {number} grain
 */
function runsOn(t, k, s, i, grain) {
  const [ax, ay, bx, by] = [t[k + 2] - t[k], t[k + 3] - t[k + 1], s[i + 2] - s[i], s[i + 3] - s[i + 1]];
  const met = t[k + 2] === s[i] && t[k + 3] === s[i + 1];
  const off = Math.abs(ax * by - ay * bx) / Math.hypot(ax + bx, ay + by);
  return met && ax * bx + ay * by > 0 && off < grain / 2 && Math.hypot(ax, ay) < LONGEST_RUN * grain;
}

/**
 * @param {Float32Array} t
 * @param {number} k
 * @param {Float32Array} s
 * @param {number} i
 * @param {number} grain
 */
function near(t, k, s, i, grain) {
  return Math.abs(t[k] - s[i]) < grain && Math.abs(t[k + 1] - s[i + 1]) < grain;
}

/**
 * @param {Uint8Array} a
 * @param {number} i
 * @param {Uint8Array} b
 * @param {number} k
 */
function sameColour(a, i, b, k) {
  return a[i] === b[k] && a[i + 1] === b[k + 1] && a[i + 2] === b[k + 2];
}

/**
 * @param {number} most
 * @param {number} parts
 * @returns {Laid}
 */
function emptyLaid(most, parts) {
  return { segments: new Float32Array(4 * most), colours: new Uint8Array(4 * most), parts: new Uint16Array(most), firsts: new Uint32Array(parts + 1), count: 0 };
}

/**
 * @param {Laid} laid
 * @param {number} x0
 * @param {number} y0
 * @param {number} x1
 * @param {number} y1
 * @param {number} red
 * @param {number} green
 * @param {number} blue
 * @param {number} part
 */
function addTo(laid, x0, y0, x1, y1, red, green, blue, part) {
  const n = laid.count;
  const { segments, colours } = laid;
  segments[4 * n] = x0;
  segments[4 * n + 1] = y0;
  segments[4 * n + 2] = x1;
  segments[4 * n + 3] = y1;
  colours[4 * n] = red;
  colours[4 * n + 1] = green;
  colours[4 * n + 2] = blue;
  colours[4 * n + 3] = 255;
  laid.parts[n] = part;
  laid.count = n + 1;
}

/**
 * Cut to its length.
 * @param {Laid} laid
 * @returns {Laid}
 */
function closed({ segments, colours, parts, firsts, count }) {
  firsts[firsts.length - 1] = count;
  return { segments: segments.subarray(0, 4 * count), colours: colours.subarray(0, 4 * count), parts: parts.subarray(0, count), firsts, count };
}

/**
 * Red, green and blue of "#rrggbb", 0 to 255.
 * @param {string} colour
 */
export function rgb(colour) {
  const value = Number.parseInt(colour.slice(1), 16) || 0;
  return [value >> 16, (value >> 8) & 255, value & 255];
}

/**
 * How often the needle goes down in a part.
 * @param {Stitches} stitches
 * @param {{first: number, count: number}} part
 */
export function stitchCount(stitches, part) {
  let n = 0;
  for (let i = part.first; i < part.first + part.count; i += 1) n += stitches.acts[i] === STITCH ? 1 : 0;
  return n;
}
