import assert from "node:assert/strict";
import test from "node:test";
import { drawnOff, DRAWN_AS, DRAWN_MOST, entriesOf, fieldOn, finished, readingOf, stepNow } from "../../src/festoon/web/page/reckon/bench.js";

/** @param {Partial<import("../../src/festoon/web/page/reckon/bench.js").Entry>} news */
const entry = (news) => ({ across: "", right: true, along: "", up: true, ...news });

test("a whole reading is right and down in millimetres, by the words beside the numbers", () => {
  const entries = { A: entry({ across: "1.6", along: "0,3" }), B: entry({ across: "0.6", right: false, along: "0.7", up: false }) };
  assert.deepEqual(readingOf(["A", "B"], entries, "mm"), { readings: { A: [1.6, -0.3], B: [-0.6, 0.7] }, missing: null, wrong: [], begun: true });
});

test("inches are read with fractions, and with a unit of their own", () => {
  const entries = { A: entry({ across: "1/16", along: "0.5 mm" }), B: entry({ across: "0", along: "1 1/8", up: false }) };
  assert.deepEqual(readingOf(["A", "B"], entries, "inch").readings, { A: [1.5875, -0.5], B: [0, 28.575] }); // exact: an inch is 25.4 mm
});

test("nought is never minus nought", () => {
  const { readings } = readingOf(["A", "B"], { A: entry({ across: "0", right: false, along: "0" }), B: entry({ across: "0", along: "0" }) }, "mm");
  for (const place of Object.values(readings).flat()) assert.ok(Object.is(place, 0), `${place}`);
});

test("it says which reading is missing", () => {
  const told = (/** @type {string[]} */ crosses, /** @type {Record<string, any>} */ entries) => readingOf(crosses, entries, "mm").missing;
  assert.equal(told(["A", "B"], {})?.told, "Read crosses A and B");
  assert.equal(told(["D", "C", "A"], {})?.told, "Read crosses D and C");
  assert.deepEqual(told(["A", "B"], { A: entry({ across: "1" }) }), { cross: "A", blank: "along", told: "Cross A: how far up or down?" });
  assert.deepEqual(told(["A", "B"], { A: entry({ along: "1" }) }), { cross: "A", blank: "across", told: "Cross A: how far right or left?" });
  assert.equal(told(["A", "B"], { A: entry({ across: "1", along: "2" }) })?.told, "Read cross B");
  assert.equal(told(["A", "B", "C"], { A: entry({ across: "1", along: "2" }), C: entry({ across: "1", along: "2" }) }), null);
  assert.equal(told(["A", "B", "C"], { A: entry({ across: "1", along: "2" }), B: entry({ across: "1", along: "2" }), C: entry({ across: "1" }) })?.cross, "C");
});

test("what is no length is told, and is no reading", () => {
  const found = readingOf(["A", "B"], { A: entry({ across: "a", along: "1" }), B: entry({ across: "1", along: "1" }) }, "mm");
  assert.deepEqual(found.wrong.map((w) => [w.cross, w.blank]), [["A", "across"]]);
  assert.deepEqual(found.readings, { B: [1, -1] });
});

test("readings written back into the blanks read the same", () => {
  const readings = /** @type {Record<string, import("../../src/festoon/web/page/types.js").Spot>} */ ({ A: [1.6, -0.3], B: [-0.62, 0.7], C: [0, 0] });
  for (const units of /** @type {const} */ (["mm", "inch"])) {
    const again = readingOf(["A", "B", "C"], entriesOf(readings, units), units).readings;
    for (const [name, [x, y]] of Object.entries(readings)) {
      assert.ok(Math.abs(again[name][0] - x) < 0.0013 && Math.abs(again[name][1] - y) < 0.0013, `${name} in ${units}: ${again[name]}`); // half of 0.0001 in
    }
  }
});

/** @type {any} */
const step = (/** @type {string} */ name, /** @type {string | null} */ done) => ({ name, done });

test("the step to be done is the first that is not", () => {
  assert.equal(stepNow([step("a", "then"), step("b", null), step("c", null)]).name, "b");
  assert.equal(stepNow([step("a", "then"), step("b", "then")]).name, "b");
  const hooping = (/** @type {any[]} */ steps) => /** @type {any} */ ({ steps });
  assert.equal(finished(hooping([step("a", "then"), step("b", null)])), false);
  assert.equal(finished(hooping([step("a", "then")])), true);
});

test("a cross is drawn farther off than it lies, but never out of the picture", () => {
  assert.deepEqual(drawnOff([0.5, -1]), [0.5 * DRAWN_AS, -DRAWN_AS]);
  assert.ok(Math.abs(Math.hypot(...drawnOff([30, 40])) - DRAWN_MOST) < 1e-9);
  assert.deepEqual(drawnOff([0, 0]), [0, 0]);
  assert.deepEqual(drawnOff(undefined), [0, 0]);
});

test("the field lies on the panel turned clockwise about its middle", () => {
  const hooping = /** @type {any} */ ({ hoop: { field: [100, 40] }, centre: [200, 150], turn: 90 });
  const corners = fieldOn(hooping).map(([x, y]) => [Math.round(x), Math.round(y)]);
  assert.deepEqual(corners, [[220, 100], [220, 200], [180, 200], [180, 100]]);
});
