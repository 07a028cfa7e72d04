import assert from "node:assert/strict";
import test from "node:test";
import { choicesOf, gapOf, inBlank, isChosen, isSpot, runs, stepped, written } from "../../src/festoon/web/page/reckon/ledger.js";

const gap = (kind, value, more = {}) => gapOf("x", kind, value, more);
const sentenceOf = (answer) => ("sentence" in answer ? answer.sentence : "");

test("a sentence falls into ink and blanks, and nothing is lost", () => {
  const sentence = { text: "{count} in a ring of radius {radius}.", gaps: [gapOf("count", "count", 9), gapOf("radius", "length", 88)] };
  const all = runs(sentence);
  assert.equal(all.map((r) => r.text).join(""), sentence.text);
  assert.deepEqual(all.map((r) => r.gap?.kind ?? null), ["count", null, "length"]);
  assert.equal(all[2].tail, ".");
});

test("what stands in a blank", () => {
  assert.deepEqual(inBlank(gap("length", 41.275), "inch"), { text: "1 5/8", after: "in" });
  assert.deepEqual(inBlank(gap("length", 0.45), "mm"), { text: "0.45", after: "mm" });
  assert.deepEqual(inBlank(gap("length", 0.4), "inch"), { text: "0.016", after: "in" }); // no sixteenth is near
  assert.deepEqual(inBlank(gap("length", null, { usual: true }), "mm"), { text: "", after: "" });
  assert.deepEqual(inBlank(gap("angle", 15), "mm"), { text: "15", after: "degrees" });
  assert.deepEqual(inBlank(gap("count", 9), "mm"), { text: "9", after: "" });
});

test("what is written into a blank", () => {
  assert.deepEqual(written(gap("length", 1), "1,5", "mm"), { value: 1.5 });
  assert.deepEqual(written(gap("length", 1), "1 5/8", "inch"), { value: "1 5/8 in" });
  assert.deepEqual(written(gap("length", 1), "1.5", "inch"), { value: "1.5 in" });
  assert.deepEqual(written(gap("length", 1), "4 cm", "inch"), { value: 40 });
  assert.deepEqual(written(gap("angle", 1), "15°", "mm"), { value: 15 });
  assert.deepEqual(written(gap("count", 1), "12", "mm"), { value: 12 });
  assert.deepEqual(written(gap("yes/no", true), "no", "mm"), { value: false });
  assert.match(sentenceOf(written(gap("length", 1), "wide", "mm")), /not a length/);
  assert.match(sentenceOf(written(gap("count", 1), "2.5", "mm")), /no whole number/);
  assert.match(sentenceOf(written(gap("angle", 1), "west", "mm")), /not a number/);
});

test("emptied, a blank says nothing where the usual holds, and is refused where not", () => {
  assert.deepEqual(written(gap("length", 0.5, { usual: true }), " ", "mm"), { value: null });
  assert.deepEqual(written(gap("thread", "leaf", { usual: true }), "", "mm"), { value: null });
  assert.match(sentenceOf(written(gap("words", "a"), " ", "mm")), /empty/);
});

test("arrow keys in a blank go the steps of the sheet", () => {
  assert.equal(stepped("length", "2.2", "mm", 1, false), "2.7");
  assert.equal(stepped("length", "2.2", "mm", -1, true), "-2.8");
  assert.equal(stepped("length", "1 5/8", "inch", -1, false), "1 9/16");
  assert.equal(stepped("length", "1 5/8", "inch", 1, true), "2 1/8");
  assert.equal(stepped("angle", "358", "mm", 1, true), "363");
  assert.equal(stepped("count", "9", "mm", 1, true), "19");
  assert.equal(stepped("words", "satin", "mm", 1, false), "satin");
  assert.equal(stepped("length", "", "mm", 1, false), "");
});

test("what may be chosen, with what stands there though it is none of it", () => {
  const thread = gap("thread", null, { choices: ["leaf", "rose"], usual: true });
  assert.deepEqual(choicesOf(thread).map((c) => [c.told, c.chosen]), [["as usual", true], ["leaf", false], ["rose", false]]);
  const by = { ...gap("choice", [3, 4], { choices: ["centre", "start"] }), shown: "3 mm right, 4 mm down" };
  assert.deepEqual(choicesOf(by).map((c) => [c.told, c.chosen]), [["3 mm right, 4 mm down", true], ["centre", false], ["start", false]]);
  assert.deepEqual(choicesOf(gap("yes/no", false)).filter((c) => c.chosen).map((c) => c.told), ["no"]);
  assert.ok(isChosen(thread) && isChosen(gap("yes/no", true)) && !isChosen(gap("line", "M 0 0 H 9")) && !isChosen(gap("count", 2)));
});

test("a place is two numbers", () => assert.deepEqual([[1, 2], [1], ["1", 2], null].map(isSpot), [true, false, false, false]));
