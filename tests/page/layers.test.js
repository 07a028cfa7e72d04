import assert from "node:assert/strict";
import test from "node:test";
import { statesOf } from "../../src/festoon/web/page/reckon/carry.js";
import { alike, holds, layered, placing } from "../../src/festoon/web/page/reckon/layers.js";

const VIEW = { scale: 2, x: 0, y: 0 };
const BOX = [400, 300];
const parts = ["low", "mid", "high", "far"].map((name, n) => ({ name, bounds: name === "far" ? [900, 900, 910, 910] : [10 * n, 10, 10 * n + 8, 20] }));
const states = statesOf(parts, () => 1);
const carry = { shift: [5, 0], turn: 0, about: [0, 0] };
const moving = (part) => (part.name === "mid" ? carry : null);
const layersOf = (carried = moving, view = VIEW) => layered(parts, states, carried, view, BOX);

test("while nothing moves, one picture shows all that can be seen", () => {
  const { under, moving: none, over } = layersOf(() => null);
  assert.deepEqual([under.parts, none, over], [[0, 1, 2], null, null]);
});

test("what moves lies between what is below it, with its pale copy, and what is above", () => {
  const { under, moving: own, over } = layersOf();
  assert.deepEqual([under.parts, own.parts, over.parts], [[0, 1], [1], [2]]);
  assert.ok(under.states[8 + 6] < 0.5, "pale");
  assert.equal(own.states[8 + 6], 1);
  assert.equal(own.states[8 + 4], 5, "drawn as it is carried");
});

test("a picture is placed as its parts are carried and the sheet is seen, and is not drawn again for that", () => {
  const { moving: shown } = layersOf();
  const farther = layersOf((part) => (part.name === "mid" ? { ...carry, shift: [9, 1] } : null)).moving;
  assert.ok(alike(shown, farther) && holds(shown, farther));
  assert.deepEqual(placing(shown, VIEW, [{ ...carry, shift: [9, 1] }]), [1, 0, 0, 1, 8, 2]);
  assert.deepEqual(placing(layersOf().under, { scale: 4, x: 30, y: 0 }, []), [2, 0, 0, 2, 30, 0]);
});

test("a still picture stays alike when the sheet is moved and other parts come into sight", () => {
  const elsewhere = layersOf(() => null, { ...VIEW, x: -1700, y: -1700 }).under;
  assert.deepEqual(elsewhere.parts, [3]);
  assert.ok(alike(layersOf(() => null).under, elsewhere));
});

test("it is drawn again for a nearer look, another sheen, or other parts", () => {
  const { under, moving: shown } = layersOf();
  assert.equal(holds(shown, layersOf(() => ({ ...carry, turn: 5 })).moving), false);
  assert.equal(holds(shown, layersOf(moving, { ...VIEW, scale: 3 }).moving), false);
  assert.equal(holds(under, layersOf(moving, { ...VIEW, x: 7 }).under), true, "a still picture shows more than the window");
  assert.equal(holds(under, layersOf(moving, { ...VIEW, x: 60 }).under), false, "but has an end");
  assert.equal(alike(under, layersOf(() => null).under), false);
  assert.equal(alike(null, under), false);
});

test("where each part turns about its own place, the picture is not turned as a whole", () => {
  const own = (part) => ({ shift: [0, 0], turn: 10, about: [part.bounds[0], 0] });
  const { moving: shown } = layersOf(() => ({ ...carry, shift: [0, 0] }));
  assert.deepEqual(placing(shown, VIEW, shown.parts.map((n) => own(parts[n]))), [1, 0, 0, 1, 0, 0]);
});
