/** Thread drawn without a graphics card: each stitch a stroke, in one of few shades by its direction to the light. */

import { carriedTo, STATE, STILL } from "./reckon/carry.js";
import { THREAD_WIDTH } from "./reckon/stitches.js";

const LIGHT = Math.atan2(-0.62, -0.45);

/** Device px a px, as fine as thread is drawn. */
export const screenRatio = () => Math.min(2, window.devicePixelRatio || 1);

export class PlainThread {
  /** @param {HTMLCanvasElement} canvas */
  constructor(canvas) {
    this.canvas = canvas;
    this.context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    /** @type {import("./reckon/stitches.js").Laid | null} */
    this.laid = null;
    /** @type {Float32Array} */
    this.states = new Float32Array(STATE);
    /** @type {Map<number, string>} */
    this.styles = new Map();
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
    const { segments, colours, parts } = laid;
    let [part, last] = [-1, -1];
    let carry = STILL;
    for (let i = from; i < to; i += 1) {
      if (parts[i] !== part) {
        if (last >= 0) context.stroke();
        [part, last] = [parts[i], -1];
        carry = /** @type {import("./reckon/carry.js").Matrix} */ (/** @type {unknown} */ (states.subarray(STATE * part, STATE * part + 6)));
        context.globalAlpha = states[STATE * part + 6];
      }
      const [x0, y0] = carriedTo(carry, [segments[4 * i], segments[4 * i + 1]]);
      const [x1, y1] = carriedTo(carry, [segments[4 * i + 2], segments[4 * i + 3]]);
      const shade = shadeOf(colours, i, Math.atan2(y1 - y0, x1 - x0));
      if (shade !== last) {
        if (last >= 0) context.stroke();
        context.beginPath();
        context.strokeStyle = this.#style(shade);
        last = shade;
      }
      context.moveTo(x0, y0);
      context.lineTo(x1, y1);
    }
    if (last >= 0) context.stroke();
  }

  /** As the canvas knows it; written once, for there are many stitches and few shades. @param {number} shade */
  #style(shade) {
    let style = this.styles.get(shade);
    if (!style) {
      const [lit, ...hue] = [shade % 8, shade >> 19, (shade >> 11) & 255, (shade >> 3) & 255];
      style = `rgb(${hue.map((c) => Math.round(Math.min(255, c * (0.72 + 0.1 * lit)))).join(" ")})`;
      this.styles.set(shade, style);
    }
    return style;
  }

  /** Drawing here is done when it returns. */
  mark() {}

  get idle() {
    return true;
  }
}

/**
 * A stitch's colour in one number, and behind it how much light falls on it, 0 to 4.
 * @param {Uint8Array} colours
 * @param {number} i
 * @param {number} way radians
 */
function shadeOf(colours, i, way) {
  const lit = Math.round(4 * Math.abs(Math.sin(way - LIGHT)));
  return (colours[4 * i] << 19) | (colours[4 * i + 1] << 11) | (colours[4 * i + 2] << 3) | lit;
}
