/**
 * The thread on the sheet. It is painted little by little, as much as a frame leaves time for, into three pictures; until
 * they are new the browser only moves, turns and stretches those there are, so that a drag stays smooth however much is sewn.
 */

import { putSketchAway, sketchLies } from "./first-sketch.js";
import { written } from "./reckon/carry.js";
import { alike, holds, layered, placing } from "./reckon/layers.js";
import { thinned } from "./reckon/stitches.js";
import { PlainThread, screenRatio } from "./thread-plain.js";
import { threadOn } from "./thread.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./reckon/carry.js").Carry} Carry */
/** @typedef {import("./reckon/layers.js").Picture} Picture */
/** @typedef {import("./reckon/stitches.js").Laid} Laid */
/**
 * `shown` is what the canvas bears, `wanted` what it is to bear; `carries` how the parts shown are carried now.
 * @typedef {{canvas: HTMLCanvasElement, shown: Picture | null, wanted: Picture | null, carries: (Carry | null)[], generation: number}} Layer
 */

/** Stitches that are painted in the first frame, and in any at the least. */
const FIRST = 4000;
const LEAST = 1000;
/** In each frame of the very first picture: nothing moves yet, and it should be there soon. */
const OPENING = 16000;
/** How many times more are tried after a frame in which all was done in time. */
const BOLDER = 1.5;
/** Device px within which two threads side by side are one to the eye, so that painting both is lost (own choice). */
const FINEST = 0.6;
/** mm, the finest grain to which thread is thinned; each coarser one is twice that before it. */
const GRAIN = 0.3;

export class ThreadLayers {
  /** @param {HTMLCanvasElement[]} canvases under, moving and over, from the lowest */
  constructor([under, moving, over]) {
    this.under = layerOn(under);
    this.moving = layerOn(moving);
    this.over = layerOn(over);
    /** Device px a px. */
    this.ratio = 1;
    /** @type {{layer: Layer, picture: Picture, ranges: Spot[], generation: number, frames: number} | null} */
    this.job = null;
    /** @type {Layer | null} what was painted last, so that no layer waits for ever */
    this.last = null;
    /** @type {Laid[]} the thread as it is, then thinned for looks from afar */
    this.fineness = [];
    /** Counts what makes every picture old: new thread, a new painter, a screen of another fineness. */
    this.generation = 0;
    this.pace = FIRST;
    this.frame = 0;
    this.painter = this.#painter();
  }

  /** New thread on the sheet. @param {Laid} laid */
  load(laid) {
    this.fineness = [laid];
    this.painter.forget();
    this.#allOld();
  }

  /**
   * What is to be seen now.
   * @param {import("./types.js").Part[]} parts
   * @param {Float32Array} states
   * @param {(part: import("./types.js").Part) => Carry | null} carried
   * @param {import("./reckon/view.js").View} view
   * @param {Spot} box px
   */
  show(parts, states, carried, view, box) {
    if (!this.fineness.length || !box[0]) return;
    const ratio = screenRatio();
    if (ratio !== this.ratio) this.#allOld();
    this.ratio = ratio;
    const { under, moving, over } = layered(parts, states, carried, view, box);
    [this.under.wanted, this.moving.wanted, this.over.wanted] = [under, moving, over];
    this.#settle();
    for (const layer of this.#layers) this.#place(layer, view);
    this.#goOn();
  }

  get #layers() {
    return [this.moving, this.over, this.under];
  }

  #allOld() {
    this.generation += 1;
    this.job = null;
  }

  /** @param {Layer} layer */
  #isNew({ shown, wanted, generation }) {
    return wanted === null || (shown !== null && generation === this.generation && alike(shown, wanted) && holds(shown, wanted));
  }

  /** What moved is put away once the lowest picture shows all of it again, and not before, lest the thread blink. */
  #settle() {
    const { under } = this;
    if (this.moving.wanted || !under.wanted || under.generation !== this.generation || !alike(under.shown, under.wanted)) return;
    for (const layer of [this.moving, this.over]) {
      layer.shown = null;
      layer.canvas.hidden = true;
    }
  }

  /**
   * @param {Layer} layer
   * @param {import("./reckon/view.js").View} view
   */
  #place(layer, view) {
    const { shown, wanted, canvas } = layer;
    if (!shown) return;
    // Thread that has changed meanwhile stays as it was left until its new picture is there.
    if (layer.generation === this.generation) {
      layer.carries = shown.carries.map((_, n) => wanted?.carries[wanted.parts.indexOf(shown.parts[n])] ?? null);
    }
    const [a, b, c, d, e, f] = placing(shown, view, layer.carries);
    const [left, top] = shown.window;
    /** @param {number} px */
    const onPixel = (px) => (b || c ? px : Math.round(px * this.ratio) / this.ratio);
    canvas.style.transform = written([a, b, c, d, onPixel(a * left + c * top + e), onPixel(b * left + d * top + f)]);
  }

  #goOn() {
    if (!this.frame) this.frame = requestAnimationFrame(() => this.#paint());
  }

  /** As much painting as a frame leaves time for. */
  #paint() {
    this.frame = 0;
    if (this.job && !this.painter.idle) {
      this.job.frames += 1;
      return this.#goOn();
    }
    if (this.job) this.#learn(this.job.frames);
    if (this.job && !this.job.ranges.length) this.#finish(this.job);
    this.job ??= this.#begun();
    if (!this.job) return;
    if (this.job.layer === this.under && !this.under.shown && !sketchLies()) this.#showUnfinished(this.job);
    this.#stretch(this.job);
    this.#goOn();
  }

  /** @param {number} late frames that the last stretch took beyond one */
  #learn(late) {
    this.pace = late ? Math.max(LEAST, this.pace / (late + 1)) : this.pace * BOLDER;
  }

  /** The next picture that is old, if there is one. */
  #begun() {
    const layers = this.#layers;
    const after = layers.indexOf(/** @type {Layer} */ (this.last)) + 1;
    const layer = [...layers.slice(after), ...layers.slice(0, after)].find((l) => !this.#isNew(l));
    if (!layer?.wanted) return null;
    const picture = layer.wanted;
    const { view, window: [left, top, right, bottom] } = picture;
    const laid = this.#laidFor(view.scale * this.ratio);
    this.painter.load(laid);
    const seen = { scale: view.scale * this.ratio, x: (view.x - left) * this.ratio, y: (view.y - top) * this.ratio };
    const size = [right - left, bottom - top].map((px) => Math.max(1, Math.round(px * this.ratio)));
    this.painter.begin(size[0], size[1], seen, picture.states);
    const ranges = /** @type {Spot[]} */ (picture.parts.map((n) => [laid.firsts[n], laid.firsts[n + 1]]).filter(([from, to]) => to > from));
    return { layer, picture, ranges, generation: this.generation, frames: 0 };
  }

  /** The thread as fine as it can be seen. @param {number} scale device px a mm */
  #laidFor(scale) {
    const coarse = Math.max(0, Math.floor(Math.log2(FINEST / scale / GRAIN)) + 1);
    this.fineness[coarse] ??= thinned(this.fineness[0], GRAIN * 2 ** (coarse - 1));
    return this.fineness[coarse];
  }

  /** Paints so many stitches as are likely to be done within a frame. @param {NonNullable<ThreadLayers["job"]>} job */
  #stretch(job) {
    job.frames = 0;
    const first = job.layer === this.under && !this.under.shown;
    for (let left = first ? Math.max(this.pace, OPENING) : this.pace; left > 0 && job.ranges.length; ) {
      const [from, to] = job.ranges[0];
      const end = Math.min(to, from + Math.ceil(left));
      this.painter.add(from, end);
      left -= end - from;
      if (end < to) job.ranges[0] = [end, to];
      else job.ranges.shift();
    }
    this.painter.mark();
  }

  /** @param {NonNullable<ThreadLayers["job"]>} job */
  #finish(job) {
    const { layer, picture } = job;
    this.job = null;
    this.last = layer;
    if (layer !== this.under && !layer.wanted) return; // put away meanwhile
    this.#copy(job);
    putSketchAway();
    Object.assign(layer, { shown: picture, carries: picture.carries, generation: job.generation });
    this.#settle();
    this.#place(layer, /** @type {Picture} */ (layer.wanted).view);
  }

  /** The very first picture is shown while it is being painted, in its place. @param {NonNullable<ThreadLayers["job"]>} job */
  #showUnfinished(job) {
    const { layer, picture } = job;
    this.#copy(job);
    this.#place({ ...layer, shown: picture, carries: picture.carries }, (layer.wanted ?? picture).view);
  }

  /** @param {NonNullable<ThreadLayers["job"]>} job */
  #copy({ layer: { canvas }, picture: { window: [left, top, right, bottom] } }) {
    const { width, height } = this.painter.canvas;
    if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
    Object.assign(canvas.style, { width: `${right - left}px`, height: `${bottom - top}px` });
    const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    context.globalCompositeOperation = "copy";
    context.drawImage(this.painter.canvas, 0, 0);
    canvas.hidden = false;
  }

  /** Paints by the graphics card as long as it lasts. */
  #painter() {
    const canvas = document.createElement("canvas");
    canvas.addEventListener("webglcontextlost", () => {
      this.painter = new PlainThread(document.createElement("canvas"));
      this.#allOld();
      this.#goOn();
    });
    return threadOn(canvas);
  }
}

/**
 * @param {HTMLCanvasElement} canvas
 * @returns {Layer}
 */
function layerOn(canvas) {
  return { canvas, shown: null, wanted: null, carries: [], generation: 0 };
}
