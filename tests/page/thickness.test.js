import assert from "node:assert/strict";
import test from "node:test";
import { movedOn, under, within } from "../../src/festoon/web/page/reckon/lens.js";
import { hatched, layersAt, paint, tintOf } from "../../src/festoon/web/page/reckon/thickness.js";
import { toCloth, toScreen } from "../../src/festoon/web/page/reckon/view.js";

const LEVELS = ["#000000", "#102030", "#405060", "#708090", "#a0b0c0"].map((colour, layers) => ({ layers, colour }));
const MAP = { width: 2, height: 2, tones: Uint8Array.of(0, 32, 64, 96), origin: [10, 20], size: [4, 2], shades: 32 };
const near = (a, b) => assert.ok(Math.abs(a - b) < 1e-9, `${a} is not ${b}`);

test("layers at the middle of a pixel, between two, and outside", () => {
  near(layersAt(MAP, 11, 20.5), 0);
  near(layersAt(MAP, 13, 20.5), 1);
  near(layersAt(MAP, 13, 21.5), 3);
  near(layersAt(MAP, 12, 20.5), 0.5);
  near(layersAt(MAP, 12, 21), 1.5);
  near(layersAt(MAP, 14.1, 21), 0);
  near(layersAt(MAP, 11, 19.9), 0);
});

test("every step of the scale has its own colour, and more than the last is painted as the last", () => {
  const { plain, inked } = tintOf(LEVELS);
  assert.deepEqual([0, 0.5, 1, 2, 3, 4].map((layers) => plain[32 * layers].toString(16)), ["302010", "80302010", "ff302010", "ff605040", "ff908070", "ffc0b0a0"]);
  assert.ok(plain.every((colour, k) => k === 0 || colour !== inked[k]));
});

test("a window is painted as the layers at each of its pixels", () => {
  const view = { scale: 3, x: -20, y: -55 };
  const tint = tintOf(LEVELS);
  const pixels = new Uint32Array(24 * 12).fill(1);
  paint(pixels, 24, view, { ...MAP, tones: Uint8Array.of(0, 40, 90, 255) }, tint);
  pixels.forEach((pixel, n) => {
    const [x, y] = [n % 24, Math.floor(n / 24)];
    const layers = layersAt({ ...MAP, tones: Uint8Array.of(0, 40, 90, 255) }, ...toCloth(view, [x + 0.5, y + 0.5]));
    const k = Math.min(128, Math.round(32 * layers));
    assert.ok(pixel === (k ? tint.plain[k] : 0) || pixel === tint.inked[k], `${x} ${y}`);
  });
  assert.ok(new Set(pixels).size > 20);
});

test("each number of layers has a hatching of its own", () => {
  const pictures = [0, 1, 2, 3, 4].map((layers) => {
    let marks = "";
    for (let n = 0; n < 900; n += 1) marks += hatched(layers, n % 30, Math.floor(n / 30)) ? "x" : " ";
    return marks;
  });
  assert.equal(new Set(pictures).size, 5);
  const inked = pictures.map((marks) => marks.replaceAll(" ", "").length);
  assert.deepEqual([...inked].sort((a, b) => a - b), inked);
  assert.equal(inked[0], 0);
});

test("the hatching goes with the cloth", () => {
  const even = { ...MAP, tones: Uint8Array.of(64, 64, 64, 64), origin: [0, 0], size: [400, 400] };
  const [one, moved] = [[0, 0], [-3, -2]].map(([x, y]) => {
    const pixels = new Uint32Array(400);
    paint(pixels, 20, { scale: 2, x, y }, even, tintOf(LEVELS));
    return pixels;
  });
  for (let y = 3; y < 15; y += 1) for (let x = 3; x < 15; x += 1) assert.equal(moved[20 * y + x], one[20 * (y + 2) + x + 3]);
});

test("the lens shows its place in its middle, four times closer", () => {
  const view = { scale: 1.5, x: 30, y: -20 };
  const seen = under(view, [40, 50], 200);
  assert.deepEqual(toScreen(seen, [40, 50]), [100, 100]);
  assert.equal(seen.scale, 6);
  near(toCloth(seen, [106, 100])[0], 41);
});

test("the lens stays on the cloth", () => {
  assert.deepEqual(movedOn([10, 10], [-20, 5], [100, 80]), [0, 15]);
  assert.deepEqual(movedOn([90, 70], [20, 20], [100, 80]), [100, 80]);
});

test("under the lens lie the stitches that come near, in their order", () => {
  const laid = { segments: Float32Array.of(0, 0, 1, 1, 5, 5, 6, 6, -9, 0, 9, 0, 0, 5, 1, 9), colours: new Uint8Array(16).map((_, n) => n), parts: Uint16Array.of(0, 1, 2, 3), firsts: Uint32Array.of(0), count: 4 };
  const few = within(laid, [0, 0], 2);
  assert.equal(few.count, 2);
  assert.deepEqual([...few.segments], [0, 0, 1, 1, -9, 0, 9, 0]);
  assert.deepEqual([...few.parts], [0, 2]);
  assert.deepEqual([...few.colours], [0, 1, 2, 3, 8, 9, 10, 11]);
});
