import assert from "node:assert/strict";
import { test } from "node:test";
import { SHAPES, shaped } from "../../src/festoon/web/page/reckon/panel-shape.js";

/** @param {string} shape @param {[number, number]} size @returns {any} */
const panel = (shape, size = [400, 300]) => ({ name: "front", size, seam: 10, shape });

test("a panel that has the shape already stays as it is", () => {
  for (const shape of SHAPES) assert.deepEqual(shaped(panel(shape), shape), []);
});

test("a rectangle keeps its block and gets what fits it", () => {
  assert.deepEqual(shaped(panel("rectangle"), "circle"), [{ do: "panel", panel: "front", word: "circle", value: { diameter: 220 } }]);
  assert.deepEqual(shaped(panel("rectangle"), "ring"), [{ do: "panel", panel: "front", word: "ring", value: { inner: 73, outer: 220 } }]);
});

test("one shape goes and another comes on the same block", () => {
  const edits = shaped(panel("ring"), "flared");
  assert.deepEqual(edits.map((e) => "word" in e && e.word), ["size", "ring", "flared"]);
  assert.deepEqual(shaped(panel("pattern"), "rectangle"), [
    { do: "panel", panel: "front", word: "size", value: [400, 300] },
    { do: "panel", panel: "front", word: "file", value: null },
  ]);
});

test("a flared panel lies within its block with its seams", () => {
  for (const size of /** @type {[number, number][]} */ ([[400, 300], [1500, 500], [200, 900]])) {
    const [edit] = shaped(panel("rectangle", size), "flared");
    const { waist_radius: waist, hem_radius: hem, angle } = /** @type {any} */ (edit).value;
    const half = (angle / 2) * (Math.PI / 180); // handbook: a sector's chord is 2R·sin(θ/2), its ends R·cos(θ/2) from the centre
    assert.ok(2 * hem * Math.sin(half) + 2 * 10 < size[0]);
    assert.ok(hem - waist * Math.cos(half) + 2 * 10 < size[1]);
    assert.ok(waist < hem);
  }
});
