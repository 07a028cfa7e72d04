import assert from "node:assert/strict";
import test from "node:test";
import { laidThread, readStitches, rgb, stitchCount, thinned } from "../../src/festoon/web/page/reckon/stitches.js";

/** @param {[number, number, number, number][]} records x, y, act, thread */
function sent(records) {
  const buffer = new ArrayBuffer(12 + 10 * records.length);
  const view = new DataView(buffer);
  [..."FSTN"].forEach((letter, i) => view.setUint8(i, letter.charCodeAt(0)));
  view.setUint32(4, 1, true);
  view.setUint32(8, records.length, true);
  records.forEach(([x, y, act, thread], i) => {
    view.setFloat32(12 + 8 * i, x, true);
    view.setFloat32(16 + 8 * i, y, true);
    view.setUint8(12 + 8 * records.length + i, act);
    view.setUint8(12 + 9 * records.length + i, thread);
  });
  return buffer;
}

test("what was sent is read", () => {
  const read = readStitches(sent([[1, 2, 0, 0], [3.5, -4, 2, 7]]));
  assert.equal(read.count, 2);
  assert.deepEqual([...read.points], [1, 2, 3.5, -4]);
  assert.deepEqual([...read.acts], [0, 2]);
  assert.deepEqual([...read.threads], [0, 7]);
});

test("stitching of another form, or cut short, is refused in a sentence", () => {
  const whole = sent([[1, 2, 0, 0]]);
  assert.throws(() => readStitches(whole.slice(0, 15)), /did not come whole/);
  assert.throws(() => readStitches(whole.slice(0, 3)), /does not know/);
  new Uint8Array(whole)[4] = 2;
  assert.throws(() => readStitches(whole), /does not know/);
});

test("only thread between two stitches of one thread and one part lies on the cloth", () => {
  const stitches = readStitches(sent([[0, 0, 0, 0], [1, 0, 0, 0], [2, 0, 1, 0], [3, 0, 0, 0], [4, 0, 0, 1], [5, 0, 0, 1], [6, 0, 0, 0], [7, 0, 0, 0]]));
  const parts = [
    { first: 0, count: 6, threads: [{ colour: "#ff0000", name: "red" }, { colour: "#0000ff", name: "blue" }] },
    { first: 6, count: 2, threads: [{ colour: "#00ff00", name: "green" }] },
  ];
  const laid = laidThread(stitches, parts);
  assert.equal(laid.count, 3);
  assert.deepEqual([...laid.segments], [0, 0, 1, 0, 4, 0, 5, 0, 6, 0, 7, 0]);
  assert.deepEqual([...laid.colours], [255, 0, 0, 255, 0, 0, 255, 255, 0, 255, 0, 255]);
  assert.deepEqual([...laid.parts], [0, 0, 1]);
  assert.equal(stitchCount(stitches, parts[0]), 5);
});

test("colours", () => assert.deepEqual(rgb("#5a6db4"), [90, 109, 180]));

/** Thread laid through points, one part a list. */
function laid(...lists) {
  let first = 0;
  const parts = lists.map((points) => ({ first, count: points.length, threads: [{ colour: "#336699" }], at: (first += points.length) }));
  const flat = lists.flat();
  const acts = new Uint8Array(flat.length);
  return laidThread({ count: flat.length, points: Float32Array.from(flat.flat()), acts, threads: new Uint8Array(flat.length) }, parts);
}

/** How far a point lies from a stitch, mm. */
function off([x, y], [ax, ay, bx, by]) {
  const [dx, dy] = [bx - ax, by - ay];
  const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

test("each part's stitches are counted off, also those of a part without any", () => {
  const thread = laid([[0, 0], [1, 0], [2, 0]], [[5, 5]], [[9, 9], [9, 8]]);
  assert.deepEqual([...thread.firsts], [0, 2, 2, 3]);
  assert.deepEqual([...thinned(thread, 0.01).firsts], [...thread.firsts]);
});

test("thinned for a look from afar, no thread lies farther than the grain from what is drawn", () => {
  const satin = Array.from({ length: 400 }, (_, i) => [0.2 * i, i % 2 ? 4 : 0]);
  const ring = Array.from({ length: 300 }, (_, i) => [50 + 12 * Math.cos(i / 20), 40 + 12 * Math.sin(i / 20)]);
  const all = laid(satin, ring);
  for (const grain of [0.3, 0.6, 1.2]) {
    const thin = thinned(all, grain);
    assert.ok(thin.count < all.count * (grain < 0.5 ? 1 : 0.5), `${thin.count} of ${all.count}`);
    assert.equal(thin.firsts[2], thin.count);
    for (let part = 0; part < 2; part += 1) {
      const kept = Array.from({ length: thin.firsts[part + 1] - thin.firsts[part] }, (_, i) => [...thin.segments.subarray(4 * (thin.firsts[part] + i), 4 * (thin.firsts[part] + i) + 4)]);
      for (const point of [satin, ring][part]) assert.ok(Math.min(...kept.map((stitch) => off(point, stitch))) <= grain, `${point} at ${grain}`);
    }
  }
});
