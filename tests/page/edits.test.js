import assert from "node:assert/strict";
import test from "node:test";
import { nudge, onGrain, set, settled, standsAt, turnOf, withinTurn } from "../../src/festoon/web/page/reckon/edits.js";

test("an element stands where its handle for 'at' is", () => {
  const element = { name: "sprig", kind: "motif", panel: "front", words: {}, sentences: [], lines: [], handles: [{ name: "place", at: [200, 210], word: "at" }] };
  assert.deepEqual(standsAt(element), [200, 210]);
  assert.equal(standsAt({ ...element, handles: [{ name: "stem", at: [1, 2], word: "bow" }] }), null);
});

test("a place is rounded to what a hand can set: 37 mm stays 37", () => {
  assert.deepEqual(settled([237.0000003, 199.96], "mm"), [237, 200]);
  assert.deepEqual(settled([25.5, 0.1], "inch"), [25.4, 0]);
});

test("a length that a handle sets is rounded as a place is", () => {
  assert.deepEqual([onGrain(-3.9499, "mm"), onGrain(12.6, "inch")], [-3.9, 12.7]);
});

test("an element can be turned where its sentences say its turn", () => {
  const said = (value) => ({ sentences: [{ text: "{turn}", gaps: [{ gap: "turn", word: "turn", value }] }] });
  assert.deepEqual([turnOf(said(15)), turnOf(said(null)), turnOf({ sentences: [] })], [15, null, null]);
});

test("arrow keys", () => {
  assert.deepEqual(nudge("ArrowLeft", false, "mm"), [-0.5, 0]);
  assert.deepEqual(nudge("ArrowDown", true, "mm"), [0, 5]);
  assert.equal(nudge("a", false, "mm"), null);
});

test("turns stay within half a round", () => {
  assert.deepEqual([185, -185, 180, -180, 360].map(withinTurn), [-175, 175, 180, 180, 0]);
});

test("an edit", () => assert.deepEqual(set("sprig", "ring.radius", 90), { do: "set", element: "sprig", word: "ring.radius", value: 90 }));
