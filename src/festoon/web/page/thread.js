/** Drawing of thread: by the graphics card, or plainly where there is none. */

import { GlThread } from "./thread-gl.js";
import { PlainThread } from "./thread-plain.js";

/**
 * @param {HTMLCanvasElement} canvas
 * @returns {GlThread | PlainThread}
 */
export function threadOn(canvas) {
  return GlThread.on(canvas) ?? new PlainThread(canvas);
}
