/** The map of thickness on the sheet, with its hatching, and the swatches of its legend. */

import { html } from "../vendor/lit/index.js";
import { PlainElement } from "../plain-element.js";
import { layersAt, paint, tintOf } from "../reckon/thickness.js";
import { here } from "../server.js";

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../reckon/thickness.js").Layers} Layers */
/** @typedef {import("../types.js").Proof} Proof */

/** @type {WeakMap<import("../types.js").Thickness, {layers: Layers | null, coming: Promise<void>}>} */
const read = new WeakMap();
/** @type {WeakMap<Proof["levels"], import("../reckon/thickness.js").Tint>} */
const tints = new WeakMap();

/**
 * The layers of the panel that is shown; null where they are not here yet, and `then` is called when they are.
 * @param {Store} store
 * @param {() => void} then
 * @returns {Layers | null}
 */
export function layersOn(store, then) {
  const map = store.found?.thickness.find((t) => t.panel === store.panel);
  if (!map || !store.found) return null;
  const held = read.get(map) ?? coming(map, store.found.revision);
  if (!held.layers) void held.coming.then(then, () => undefined);
  return held.layers;
}

/**
 * Has a map fetched; one that does not come is asked for again when it is next wanted.
 * @param {import("../types.js").Thickness} map
 * @param {string} revision
 */
function coming(map, revision) {
  /** @type {{layers: Layers | null, coming: Promise<void>}} */
  const held = { layers: null, coming: Promise.resolve() };
  held.coming = fetched(map, revision).then((layers) => void (held.layers = layers));
  held.coming.catch(() => read.delete(map));
  read.set(map, held);
  return held;
}

/**
 * @param {Proof["levels"]} levels
 */
export function tintFor(levels) {
  const tint = tints.get(levels) ?? tintOf(levels);
  tints.set(levels, tint);
  return tint;
}

/**
 * How many layers lie at a place of the panel that is shown.
 * @param {Store} store
 * @param {import("../types.js").Spot} at mm
 */
export function layersThere(store, at) {
  const layers = layersOn(store, () => undefined);
  return layers ? layersAt(layers, at[0], at[1]) : 0;
}

/**
 * @param {import("../types.js").Thickness} map
 * @param {string} revision
 * @returns {Promise<Layers>}
 */
async function fetched(map, revision) {
  const answer = await fetch(`${here(map.picture)}&revision=${revision}`, { credentials: "same-origin" });
  const picture = await createImageBitmap(await answer.blob(), { colorSpaceConversion: "none" });
  const { width, height } = picture;
  const canvas = document.createElement("canvas");
  Object.assign(canvas, { width, height });
  const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d", { willReadFrequently: true }));
  context.drawImage(picture, 0, 0);
  const { data } = context.getImageData(0, 0, width, height);
  return { width, height, tones: Uint8Array.from({ length: width * height }, (_, n) => data[4 * n]), origin: map.origin, size: map.size, shades: map.shades };
}

/**
 * Paints the layers into a canvas of so many px.
 * @param {HTMLCanvasElement} canvas
 * @param {number} width
 * @param {number} height
 * @param {import("../reckon/view.js").View} view
 * @param {Layers | null} layers
 * @param {import("../reckon/thickness.js").Tint} tint
 */
export function paintInto(canvas, width, height, view, layers, tint) {
  if (!width || !height) return;
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
  const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  const image = context.createImageData(width, height);
  if (layers) paint(new Uint32Array(image.data.buffer), width, view, layers, tint);
  context.putImageData(image, 0, 0);
}

/** The map of the panel that is shown, under the lines of the sheet. */
export class FestoonThickness extends PlainElement {
  static properties = { store: { attribute: false }, found: { attribute: false }, panel: {}, view: { attribute: false }, box: { attribute: false } };

  constructor() {
    super();
    /** @type {Store} */
    this.store;
    /** @type {Proof | null} */
    this.found = null;
    this.panel = "";
    /** @type {import("../reckon/view.js").View} */
    this.view = { scale: 1, x: 0, y: 0 };
    /** @type {import("../types.js").Spot} */
    this.box = [0, 0];
  }

  render() {
    return html`<canvas aria-hidden="true"></canvas>`;
  }

  updated() {
    const { store, found, view, box } = this;
    if (!found) return;
    const canvas = /** @type {HTMLCanvasElement} */ (this.querySelector("canvas"));
    const layers = layersOn(store, () => this.requestUpdate());
    paintInto(canvas, Math.round(box[0]), Math.round(box[1]), view, layers, tintFor(found.levels));
  }
}
customElements.define("festoon-thickness", FestoonThickness);

const SWATCH = { width: 30, height: 22 };

/** One step of the legend, painted as the map is. */
export class FestoonSwatch extends PlainElement {
  static properties = { levels: { attribute: false }, layers: { type: Number } };

  constructor() {
    super();
    /** @type {Proof["levels"]} */
    this.levels = [];
    this.layers = 0;
  }

  render() {
    return html`<canvas width=${SWATCH.width} height=${SWATCH.height} aria-hidden="true"></canvas>`;
  }

  updated() {
    const even = { width: 1, height: 1, tones: Uint8Array.of(this.layers), origin: /** @type {[number, number]} */ ([0, 0]), size: /** @type {[number, number]} */ ([SWATCH.width, SWATCH.height]), shades: 1 };
    paintInto(/** @type {HTMLCanvasElement} */ (this.querySelector("canvas")), SWATCH.width, SWATCH.height, { scale: 1, x: 0, y: 0 }, even, tintFor(this.levels));
  }
}
customElements.define("festoon-swatch", FestoonSwatch);
