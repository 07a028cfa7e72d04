import assert from "node:assert/strict";
import { test } from "node:test";
import { blockFreed, blocksHeld, fieldFreed, fieldKept, largest, letGo, mayJoin, orderWith, ownOf } from "../../src/festoon/web/page/reckon/own-say.js";

/**
 * A hooping of the panel "front" with a field of 100 by 100 mm.
 * @param {number} number
 * @param {string[]} names of its blocks
 * @param {{laid?: number | null, after?: number[], panel?: string}} [more]
 */
function hooping(number, names, { laid = null, after = [], panel = "front" } = {}) {
  const record = { number, panel, hoop: "small", field: [100, 100], centre: [200, 120], turn: 0, stitches: 1, threads: [], elements: names, marks: [], after };
  return /** @type {any} */ ({ record, blocks: names.map((name) => ({ name, part: name.split("/")[0], told: name })), float_sides: [], reason: "", minutes: 1, laid });
}

test("a field is kept to the thousandth, and says its panel only where there are several", () => {
  const one = hooping(3, ["leaf"]);
  assert.deepEqual(fieldKept([], one, [200.00049, 120], 0, false), [{ at: [200, 120], turn: 0 }]);
  assert.deepEqual(fieldKept([], one, [200, 120], 37.12345, true), [{ panel: "front", at: [200, 120], turn: 37.123 }]);
});

test("what is hers already is changed at its place, and everything else stays as it stands in the file", () => {
  const laid = [{ at: ["20 cm", 10] }, { holds: ["leaf"] }];
  const own = hooping(3, ["leaf"], { laid: 1 });
  assert.deepEqual(fieldKept(laid, own, [1, 2], 90, false), [{ at: ["20 cm", 10] }, { holds: ["leaf"], at: [1, 2], turn: 90 }]);
  assert.equal(fieldKept(laid, own, [1, 2], 90, false)[0], laid[0]);
  assert.equal(ownOf(laid, own), laid[1]);
  assert.equal(ownOf(laid, hooping(1, ["bud"])), null);
});

test("a block held here is held nowhere else; what then says nothing is taken out", () => {
  const laid = [{ holds: ["bud", "leaf"] }, { holds: ["bud"] }, { at: [1, 2], holds: ["bud"] }];
  const here = hooping(5, ["dot"]);
  assert.deepEqual(blocksHeld(laid, here, ["bud", "dot"], false), [{ holds: ["leaf"] }, { at: [1, 2] }, { holds: ["bud", "dot"] }]);
});

test("letting go leaves what is still said, or nothing", () => {
  const laid = [{ at: [1, 2], turn: 0, holds: ["leaf", "bud"] }];
  const own = hooping(1, ["leaf", "bud"], { laid: 0 });
  assert.deepEqual(fieldFreed(laid, own), [{ holds: ["leaf", "bud"] }]);
  assert.deepEqual(blockFreed(laid, own, "bud"), [{ at: [1, 2], turn: 0, holds: ["leaf"] }]);
  assert.deepEqual(fieldFreed([{ at: [1, 2], turn: 0 }], own), []);
  assert.deepEqual(blockFreed([{ holds: ["bud"] }], own, "bud"), []);
  assert.deepEqual(letGo(laid, own), []);
});

test("sooner and later name the first block of each hooping of the panel, unless one lies over the other", () => {
  const all = [hooping(1, ["a", "b"]), hooping(2, ["c"]), hooping(3, ["d"], { after: [2] }), hooping(4, ["e"], { panel: "back" })];
  assert.deepEqual(orderWith(all, all[1], -1), { order: ["c", "a", "d"], bar: "" });
  assert.deepEqual(orderWith(all, all[0], 1), { order: ["c", "a", "d"], bar: "" });
  assert.deepEqual(orderWith(all, all[2], -1), { order: null, bar: "Hooping 3 lies over 2." });
  assert.deepEqual(orderWith(all, all[1], 1), { order: null, bar: "Hooping 3 lies over 2." });
  assert.deepEqual(orderWith(all, all[0], -1), { order: null, bar: "It is the first." });
  assert.deepEqual(orderWith(all, all[3], 1), { order: null, bar: "It is the last." });
});

test("what may join is what fits with what stays, the nearest first", () => {
  /** @type {(name: string, bounds: number[]) => any} */
  const part = (name, bounds) => ({ name, bounds });
  const parts = [part("a", [0, 0, 40, 40]), part("b", [60, 0, 100, 40]), part("c", [60, 0, 101, 40]), part("d", [20, 0, 50, 40]), part("hem", [0, 0, 10, 10])];
  const all = [hooping(1, ["a"]), hooping(2, ["b", "c"]), hooping(3, ["d", "hem/1"])];
  const names = (/** @type {string} */ turn) => mayJoin(all, all[0], ["a"], parts, turn).map((block) => block.name);
  assert.deepEqual(names("square"), ["d", "b"]);
  assert.deepEqual(names("free"), ["d", "b", "c"]);
  assert.equal(largest(all[1], parts), "c");
});
