/** Thread drawn without a graphics card: each stitch a stroke, in one of few shades by its direction to the light. */

import { carriedTo, STATE } from "./reckon/carry.js";
import { THREAD_WIDTH } from "./reckon/stitches.js";

const LIGHT = Math.atan2(-0.62, -0.45);

export class PlainThread {
  /** @param {HTMLCanvasElement} canvas */
  constructor(canvas) {
    this.canvas = canvas;
    this.context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    /** @type {import("./reckon/stitches.js").Laid | null} */
    this.laid = null;
    /** @type {Float32Array} */
    this.states = new Float32Array(STATE);
  }

  /** New thread: nothing of the old is kept here. */
  forget() {}

  /** What is drawn from now on. @param {import("./reckon/stitches.js").Laid} laid */
  load(laid) {
    this.laid = laid;
  }

  /**
   * Begins a picture: nothing on it yet.
   * @param {number} width device px
   * @param {number} height
   * @param {import("./reckon/view.js").View} view mm to device px
   * @param {Float32Array} states as statesOf gives them
   */
  begin(width, height, view, states) {
    const { context } = this;
    Object.assign(this.canvas, { width, height });
    context.setTransform(view.scale, 0, 0, view.scale, view.x, view.y);
    context.lineWidth = Math.max(THREAD_WIDTH, 1.2 / view.scale);
    context.lineCap = "round";
    this.states = states;
  }

  /**
   * Draws the stitches from one to another, over what is there.
   * @param {number} from
   * @param {number} to
   */
  add(from, to) {
    const { context, laid, states } = this;
    if (!laid) return;
    let last = "";
    for (let i = from; i < to; i += 1) {
      const state = STATE * laid.parts[i];
      const carry = /** @type {import("./reckon/carry.js").Matrix} */ (/** @type {unknown} */ (states.subarray(state, state + 6)));
      const [x0, y0] = carriedTo(carry, [laid.segments[4 * i], laid.segments[4 * i + 1]]);
      const [x1, y1] = carriedTo(carry, [laid.segments[4 * i + 2], laid.segments[4 * i + 3]]);
      const style = shade(laid.colours, i, Math.atan2(y1 - y0, x1 - x0), states[state + 6]);
      if (style !== last) {
        if (last) context.stroke();
        context.beginPath();
        context.strokeStyle = style;
        last = style;
      }
      context.moveTo(x0, y0);
      context.lineTo(x1, y1);
    }
    if (last) context.stroke();
  }

  /** Drawing here is done when it returns. */
  mark() {}

  get idle() {
    return true;
  }
}

/**
 * @param {Uint8Array} colours
 * @param {number} i
 * @param {number} way radians
 * @param {number} strength
 */
function shade(colours, i, way, strength) {
  const lit = Math.round(4 * Math.abs(Math.sin(way - LIGHT))) / 4;
  const [r, g, b] = colours.subarray(4 * i, 4 * i + 3);
  return `rgb(${[r, g, b].map((c) => Math.round(Math.min(255, c * (0.72 + 0.4 * lit)))).join(" ")} / ${strength})`;
}
