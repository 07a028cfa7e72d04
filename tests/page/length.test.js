import assert from "node:assert/strict";
import test from "node:test";
import { lengthNumber, plainNumber, readLength, readNumber, showLength } from "../../src/festoon/web/page/reckon/length.js";

test("numbers as people write them", () => {
  const written = { "42": 42, "1,5": 1.5, "1.5": 1.5, ".5": 0.5, "1 5/8": 1.625, "1⅝": 1.625, "5/8": 0.625, "-3": -3, "−3": -3, "- 1 1/2": -1.5 };
  for (const [text, value] of Object.entries(written)) assert.equal(readNumber(text), value, text);
});

test("what is no number", () => {
  for (const text of ["", "a", "1/0", "1 5", "1,5,2", "1 5/8/2"]) assert.ok(Number.isNaN(readNumber(text)), text);
});

test("lengths with a unit, and without one in the piece's own", () => {
  assert.equal(readLength("1 5/8", "inch"), 41.275); // exact: an inch is 25.4 mm
  assert.equal(readLength('1 5/8"', "mm"), 41.275);
  assert.equal(readLength("4,2 cm", "inch"), 42);
  assert.equal(readLength("42", "mm"), 42);
  assert.ok(Number.isNaN(readLength("mm", "mm")));
});

test("lengths are shown as on the sheets", () => {
  assert.equal(showLength(42, "mm"), "42 mm");
  assert.equal(showLength(41.3, "inch"), "1 5/8 in");
  assert.equal(showLength(25.3999, "inch"), "1 in");
  assert.equal(showLength(-0.01, "mm"), "0 mm");
  assert.equal(showLength(-12.7, "inch"), "-1/2 in");
  assert.equal(plainNumber(100, 0), "100");
  assert.equal(showLength(10, "inch"), "0.39 in"); // 0.47 mm from the next sixteenth: told as a decimal
});

test("what is shown reads back to within half of its last step", () => {
  for (let mm = -60; mm < 300; mm += 0.37) {
    assert.ok(Math.abs(readLength(lengthNumber(mm, "mm"), "mm") - mm) <= 0.05 + 1e-9, `${mm}`);
    assert.ok(Math.abs(readLength(lengthNumber(mm, "inch"), "inch") - mm) <= 25.4 / 32 + 1e-9, `${mm}`);
  }
});
