import assert from "node:assert/strict";
import test from "node:test";
import { leaned, leaningLines, nudge, set, settled, standsAt, withinTurn } from "../../src/festoon/web/page/reckon/edits.js";
import { inBlank, kindOf, runs, stepped, written } from "../../src/festoon/web/page/reckon/ledger.js";

const gap = (value, shown) => ({ gap: "x", word: "x", value, shown });

test("an element stands where its handle for 'at' is", () => {
  const element = { name: "sprig", kind: "motif", panel: "front", words: {}, sentences: [], lines: [], handles: [{ name: "place", at: [200, 210], word: "at" }] };
  assert.deepEqual(standsAt(element), [200, 210]);
  assert.equal(standsAt({ ...element, handles: [{ name: "stem", at: [1, 2], word: "bow" }] }), null);
});

test("a drag leans to the nearest line within reach, and names it", () => {
  const lines = leaningLines([400, 300], [{ name: "bow", at: [198.8, 40] }]);
  assert.deepEqual(leaned([199.2, 150.4], lines), { at: [198.8, 150], held: { x: "the middle of bow", y: "the centre line" } });
  assert.deepEqual(leaned([190, 41.6], lines), { at: [190, 41.6], held: { x: null, y: null } });
});

test("a place is rounded to what a hand can set: 37 mm stays 37", () => {
  assert.deepEqual(settled([237.0000003, 199.96], "mm"), [237, 200]);
  assert.deepEqual(settled([25.5, 0.1], "inch"), [25.4, 0]);
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

test("a sentence falls into ink and blanks, and nothing is lost", () => {
  const sentence = { text: "{count} in a ring of radius {radius}.", gaps: [{ gap: "count", word: "ring.count", value: 9, shown: "9" }, { gap: "radius", word: "ring.radius", value: 88, shown: "88 mm" }] };
  const all = runs(sentence);
  assert.equal(all.map((r) => r.text).join(""), sentence.text);
  assert.deepEqual(all.map((r) => r.gap?.word ?? null), ["ring.count", null, "ring.radius", null]);
});

test("kinds of blanks", () => {
  assert.equal(kindOf(gap(88, "88 mm")), "length");
  assert.equal(kindOf(gap(15, "15°")), "angle");
  assert.equal(kindOf(gap(9, "9")), "number");
  assert.equal(kindOf(gap("satin", "satin")), "words");
  assert.equal(kindOf(gap(null, "200 mm right, 200 mm down")), "place");
  assert.equal(kindOf(gap(null, "7 7/8 in right, 7 7/8 in down")), "place");
  assert.deepEqual(inBlank(gap(41.275, "41.3 mm"), "inch"), { text: "1 5/8", after: "in" });
});

test("what is written into a blank", () => {
  assert.deepEqual(written("length", "1,5", "mm"), { value: 1.5 });
  assert.deepEqual(written("length", "1 5/8", "inch"), { value: "1 5/8 in" });
  assert.deepEqual(written("length", "4 cm", "inch"), { value: 40 });
  assert.deepEqual(written("angle", "15°", "mm"), { value: 15 });
  assert.match(written("length", "wide", "mm").sentence, /not a length/);
  assert.match(written("words", " ", "mm").sentence, /empty/);
});

test("arrow keys in a blank", () => {
  assert.equal(stepped("length", "2.2", "mm", 1), "2.7");
  assert.equal(stepped("length", "1 5/8", "inch", -1), "1 9/16");
  assert.equal(stepped("number", "9", "mm", 10), "19");
  assert.equal(stepped("words", "satin", "mm", 1), "satin");
});
