/** The stitching as it travels: one binary record for the whole piece, read without copying. */

/** @typedef {{count: number, points: Float32Array, acts: Uint8Array, threads: Uint8Array}} Stitches */
/** @typedef {{segments: Float32Array, colours: Uint8Array, parts: Uint16Array, count: number}} Laid */

/** mm, of an embroidery thread of 120/2 denier as it lies on cloth (common practice). */
export const THREAD_WIDTH = 0.4;

const HEAD = 12;
const RECORD = 10;
const STITCH = 0;

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
 * The thread that lies on the cloth: straight lines between two stitches of one thread of one part, in sewing order.
 * segments holds x, y of both ends; colours red, green, blue and 255; parts the place in `parts`.
 * @param {Stitches} stitches
 * @param {Pick<import("../types.js").Part, "first" | "count" | "threads">[]} parts
 * @returns {Laid}
 */
export function laidThread(stitches, parts) {
  const { points, acts, threads } = stitches;
  const most = parts.reduce((sum, part) => sum + part.count, 0);
  const segments = new Float32Array(4 * most);
  const colours = new Uint8Array(4 * most);
  const own = new Uint16Array(most);
  let n = 0;
  parts.forEach((part, index) => {
    const palette = part.threads.map((thread) => rgb(thread.colour));
    for (let i = part.first + 1; i < part.first + part.count; i += 1) {
      if (acts[i] !== STITCH || acts[i - 1] !== STITCH || threads[i] !== threads[i - 1]) continue;
      segments.set([points[2 * i - 2], points[2 * i - 1], points[2 * i], points[2 * i + 1]], 4 * n);
      colours.set(palette[threads[i]] ?? [0, 0, 0], 4 * n);
      colours[4 * n + 3] = 255;
      own[n] = index;
      n += 1;
    }
  });
  return { segments: segments.slice(0, 4 * n), colours: colours.slice(0, 4 * n), parts: own.slice(0, n), count: n };
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
