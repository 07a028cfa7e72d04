/** How thick stitching gets, read from its grey picture and painted in colours with a hatching, a pixel at a time. */

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {{width: number, height: number, tones: Uint8Array, origin: Spot, size: Spot, shades: number}} Layers tones: row by row */
/** @typedef {{layers: number, colour: string}} Level */
/** @typedef {{plain: Uint32Array, inked: Uint32Array}} Tint for every 32nd of a layer the colour and that of its hatching, 0xAABBGGRR */

/** px between the lines of the hatching, from one layer to as many as there are colours for. */
const APART = [0, 8, 5, 5, 3];
/** Layers from which lines cross. */
const CROSSED = 3;
/** How much darker the lines are. */
const DARKER = 0.66;
const FULL = 255;
/** Shades that tell one layer. */
const FINE = 32;

/**
 * Layers of thread at a place on the cloth, between pixels evenly; 0 outside the picture.
 * @param {Layers} layers
 * @param {number} x mm
 * @param {number} y mm
 */
export function layersAt({ width, height, tones, origin, size, shades }, x, y) {
  const u = ((x - origin[0]) / size[0]) * width - 0.5;
  const v = ((y - origin[1]) / size[1]) * height - 0.5;
  if (u < -0.5 || v < -0.5 || u > width - 0.5 || v > height - 0.5) return 0;
  const [i, j] = [Math.max(0, Math.floor(u)), Math.max(0, Math.floor(v))];
  const [a, b] = [Math.max(0, u - i), Math.max(0, v - j)];
  const row = j * width;
  const below = j + 1 < height ? row + width : row;
  const right = i + 1 < width ? i + 1 : i;
  const upper = tones[row + i] * (1 - a) + tones[row + right] * a;
  const lower = tones[below + i] * (1 - a) + tones[below + right] * a;
  return (upper * (1 - b) + lower * b) / shades;
}

/**
 * How a number of layers is painted, after the steps of the scale, evenly between them; under one layer the cloth shows.
 * @param {Level[]} levels the palest first, which is bare cloth
 * @returns {Tint}
 */
export function tintOf(levels) {
  const most = levels.length - 1;
  const plain = new Uint32Array(FINE * most + 1);
  const inked = new Uint32Array(plain.length);
  const shades = levels.map((level) => channels(level.colour));
  for (let k = 0; k < plain.length; k += 1) {
    const step = Math.min(most - 1, Math.floor(k / FINE));
    const share = k / FINE - step;
    const [r, g, b] = shades[Math.max(1, step)].map((c, n) => c + (shades[step + 1][n] - c) * share);
    const alpha = Math.round(FULL * Math.min(1, k / FINE));
    plain[k] = packed(r, g, b, alpha);
    inked[k] = packed(r * DARKER, g * DARKER, b * DARKER, alpha);
  }
  return { plain, inked };
}

/**
 * Whether a pixel lies on a line of the hatching of so many layers: so they are told apart without colour, too.
 * @param {number} layers
 * @param {number} x px
 * @param {number} y px
 */
export function hatched(layers, x, y) {
  if (!layers) return false;
  const apart = APART[Math.min(layers, APART.length - 1)];
  return wrapped(x + y, apart) === 0 || (layers >= CROSSED && wrapped(x - y, apart) === 0);
}

/**
 * Paints a window of the cloth. The hatching lies on the cloth, so that it goes with it.
 * @param {Uint32Array} pixels row by row, as tints
 * @param {number} width px
 * @param {import("./view.js").View} view
 * @param {Layers} layers
 * @param {Tint} tint
 */
export function paint(pixels, width, view, layers, { plain, inked }) {
  const { tones, shades } = layers;
  const height = pixels.length / width;
  const across = places(width, view.x, view.scale, layers.origin[0], layers.size[0], layers.width);
  const down = places(height, view.y, view.scale, layers.origin[1], layers.size[1], layers.height);
  const [left, top] = [Math.round(view.x), Math.round(view.y)];
  const most = (plain.length - 1) / FINE;
  const fine = FINE / shades;
  for (let y = 0; y < height; y += 1) {
    const row = y * width;
    if (down.from[y] < 0) {
      pixels.fill(0, row, row + width);
      continue;
    }
    const [upper, lower, b] = [down.from[y] * layers.width, down.to[y] * layers.width, down.share[y]];
    for (let x = 0; x < width; x += 1) {
      const i = across.from[x];
      const j = across.to[x];
      const a = across.share[x];
      if (i < 0 || !(tones[upper + i] | tones[upper + j] | tones[lower + i] | tones[lower + j])) {
        pixels[row + x] = 0; // most of the cloth is bare
        continue;
      }
      const there = (tones[upper + i] * (1 - a) + tones[upper + j] * a) * (1 - b) + (tones[lower + i] * (1 - a) + tones[lower + j] * a) * b;
      const k = Math.min(plain.length - 1, Math.round(there * fine));
      pixels[row + x] = k ? (hatched(Math.min(most, Math.round(there / shades)), x - left, y - top) ? inked : plain)[k] : 0;
    }
  }
}

/**
 * Along one axis: between which pixels of the picture each px of the window lies, and how near to the second; -1 outside.
 * @param {number} count px
 * @param {number} start where the cloth begins, px
 * @param {number} scale px per mm
 * @param {number} origin of the picture, mm
 * @param {number} size of it, mm
 * @param {number} cells of it
 */
function places(count, start, scale, origin, size, cells) {
  const [from, to, share] = [new Int32Array(count), new Int32Array(count), new Float32Array(count)];
  for (let n = 0; n < count; n += 1) {
    const at = (((n + 0.5 - start) / scale - origin) / size) * cells - 0.5;
    const first = Math.max(0, Math.floor(at));
    from[n] = at < -0.5 || at > cells - 0.5 ? -1 : first;
    to[n] = Math.min(cells - 1, first + 1);
    share[n] = Math.max(0, at - first);
  }
  return { from, to, share };
}

/**
 * @param {number} r
 * @param {number} g
 * @param {number} b
 * @param {number} alpha
 */
function packed(r, g, b, alpha) {
  return ((alpha << 24) | (Math.round(b) << 16) | (Math.round(g) << 8) | Math.round(r)) >>> 0;
}

/** @param {string} colour "#rrggbb" */
function channels(colour) {
  const value = Number.parseInt(colour.slice(1), 16);
  return [value >> 16, (value >> 8) & 255, value & 255];
}

/**
 * @param {number} value
 * @param {number} by
 */
function wrapped(value, by) {
  return ((value % by) + by) % by;
}
