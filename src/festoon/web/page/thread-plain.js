/** Thread drawn without a graphics card: each stitch a stroke, in one of few shades by its direction to the light. */

import { THREAD_WIDTH } from "./reckon/stitches.js";

const LIGHT = Math.atan2(-0.62, -0.45);

export class PlainThread {
  /** @param {HTMLCanvasElement} canvas */
  constructor(canvas) {
    this.context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    /** @type {import("./reckon/stitches.js").Laid | null} */
    this.laid = null;
  }

  /** @param {import("./reckon/stitches.js").Laid} laid */
  load(laid) {
    this.laid = laid;
  }

  /**
   * @param {import("./reckon/view.js").View} view
   * @param {Float32Array} states four numbers a part: shift x, y in mm, opacity, unused
   */
  draw(view, states) {
    const { context, laid } = this;
    const ratio = context.canvas.width / Math.max(1, context.canvas.clientWidth);
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.clearRect(0, 0, context.canvas.width, context.canvas.height);
    if (!laid) return;
    const scale = view.scale * ratio;
    context.setTransform(scale, 0, 0, scale, view.x * ratio, view.y * ratio);
    context.lineWidth = Math.max(THREAD_WIDTH, 1.2 / scale);
    context.lineCap = "round";
    let last = "";
    const flush = () => last && context.stroke();
    for (let i = 0; i < laid.count; i += 1) {
      const [x0, y0, x1, y1] = laid.segments.subarray(4 * i, 4 * i + 4);
      const state = 4 * laid.parts[i];
      const style = `${shade(laid.colours, i, Math.atan2(y1 - y0, x1 - x0))}/${states[state + 2]}`;
      if (style !== last) {
        flush();
        context.beginPath();
        context.strokeStyle = style.slice(0, style.indexOf("/"));
        context.globalAlpha = states[state + 2];
        last = style;
      }
      context.moveTo(x0 + states[state], y0 + states[state + 1]);
      context.lineTo(x1 + states[state], y1 + states[state + 1]);
    }
    flush();
    context.globalAlpha = 1;
  }
}

/**
 * @param {Uint8Array} colours
 * @param {number} i
 * @param {number} way radians
 */
function shade(colours, i, way) {
  const lit = Math.round(4 * Math.abs(Math.sin(way - LIGHT))) / 4;
  const [r, g, b] = colours.subarray(4 * i, 4 * i + 3);
  return `rgb(${[r, g, b].map((c) => Math.round(Math.min(255, c * (0.72 + 0.4 * lit)))).join(" ")})`;
}
