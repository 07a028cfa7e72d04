/** A painter of thread: by the graphics card, or plainly where there is none. */

import { GlThread } from "./thread-gl.js";
import { PlainThread } from "./thread-plain.js";

/** @typedef {GlThread | PlainThread} Painter begin a picture, add stitches to it, mark, and ask whether that is idle */

/**
 * @param {HTMLCanvasElement} canvas
 * @returns {Painter}
 */
export function threadOn(canvas) {
  return GlThread.on(canvas) ?? new PlainThread(canvas);
}
