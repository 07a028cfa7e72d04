import assert from "node:assert/strict";
import test from "node:test";
import { after, carriedTo, matrixOf, seenBy, statesOf, towards, turnBetween, undone, written } from "../../src/festoon/web/page/reckon/carry.js";
import { around, boxOf, inside, toggled } from "../../src/festoon/web/page/reckon/choice.js";
import { isLength, isRing, lengthAt, placeAt } from "../../src/festoon/web/page/reckon/handles.js";
import { leaned, magnets, reachAt } from "../../src/festoon/web/page/reckon/magnets.js";
import { pick, wanted } from "../../src/festoon/web/page/picking.js";

const near = (a, b) => a.forEach((v, i) => assert.ok(Math.abs(v - b[i]) < 1e-6, `${a} is not ${b}`));
const CLOTH = { size: [400, 300], seam: 15 };

test("a part is turned clockwise about its place, then moved", () => {
  const matrix = matrixOf({ shift: [10, 0], turn: 90, about: [100, 50] });
  near(carriedTo(matrix, [100, 40]), [120, 50]);
  near(carriedTo(undone(matrix), [120, 50]), [100, 40]);
  near(after(matrix, undone(matrix)), [1, 0, 0, 1, 0, 0]);
  near(carriedTo(seenBy({ scale: 2, x: 5, y: 6 }), [10, 20]), [25, 46]);
  assert.equal(written([1, 0, 0, 1, 2.5, 0]), "matrix(1,0,0,1,2.5,0)");
});

test("what the thread is told of the parts", () => {
  const states = statesOf([{ name: "a" }, { name: "b" }], ({ name }) => (name === "a" ? 1 : 0.5), ({ name }) => (name === "b" ? { shift: [3, 4], turn: 0, about: [0, 0] } : null));
  assert.equal(states.length, 16);
  near([...states], [1, 0, 0, 1, 0, 0, 1, 0, 1, 0, 0, 1, 3, 4, 0.5, 0]);
});

test("turns are measured about a place, and led off from it", () => {
  near([turnBetween([0, 0], [0, -5], [7, 0])], [90]);
  near(towards([10, 10], 90, 5), [15, 10]);
});

test("a drag leans to centre lines, its own sides to cut and seam edges, and its place to other points", () => {
  const at = [100, 100];
  const to = magnets(CLOTH, at, [80, 90, 130, 110], [{ name: "bud", at: [260, 77], turn: 0 }]);
  const lean = (place) => {
    const { at: leant, held } = leaned(place, to, 1.5);
    return [leant, held.x?.told ?? null, held.y?.told ?? null];
  };
  assert.deepEqual(lean([199.2, 120]), [[200, 120], "on the centre line", null]);
  assert.deepEqual(lean([196, 60]), [[195, 60], "its middle on the centre line", null]);
  assert.deepEqual(lean([21, 120]), [[20, 120], "left side on the cut edge", null]);
  assert.deepEqual(lean([354, 276]), [[355, 275], "right side on the seam line", "lower side on the seam line"]);
  assert.deepEqual(lean([261, 78]), [[260, 77], "in line with bud", "level with bud"]);
  assert.deepEqual(lean([300, 120]), [[300, 120], null, null]);
});

test("it leans to the axes of a turned motif, square to the nearest", () => {
  const to = magnets(CLOTH, [0, 0], null, [{ name: "bud", at: [100, 100], turn: 45 }]);
  const { at, held } = leaned([131, 130], to, 1.5);
  near(at, [130.5, 130.5]);
  assert.equal(held.axis?.told, "on the axis of bud");
  near(leaned([131, 70], to, 1.5).at, [130.5, 69.5]);
  assert.deepEqual(magnets(CLOTH, [0, 0], null, [{ name: "bud", at: [1, 1], turn: 270 }]).axes, [], "an upright one says no more than its point");
});

test("the reach is a millimetre and a half, felt far off and no hindrance close by", () => {
  near([reachAt(4), reachAt(0.5) * 0.5, reachAt(40) * 40], [1.5, 4, 16]);
});

test("one more and one fewer", () => {
  assert.deepEqual(toggled(["a", "b"], "c"), ["a", "b", "c"]);
  assert.deepEqual(toggled(["a", "b"], "a"), ["b"]);
});

test("a box takes what lies wholly in it, whichever way it is drawn", () => {
  const parts = [{ name: "a", bounds: [0, 0, 10, 10] }, { name: "b", bounds: [5, 5, 30, 30] }];
  assert.deepEqual(boxOf([20, -1], [-1, 20]), [-1, -1, 20, 20]);
  assert.deepEqual(inside(parts, boxOf([20, -1], [-1, 20])), ["a"]);
  assert.deepEqual(around(parts.map((p) => p.bounds)), [0, 0, 30, 30]);
  assert.equal(around([]), null);
});

test("a handle with a way of its own changes a length and moves along that way alone", () => {
  const handle = { name: "spacing of the row", at: [50, 50], word: "row.spacing", along: [0, 0.5], value: 20 };
  assert.ok(isLength(handle));
  assert.equal(lengthAt(handle, [9, 8]), 24);
  assert.deepEqual(placeAt(handle, 24), [50, 58]);
  assert.equal(isLength({ name: "place", at: [0, 0], word: "at", along: null, value: null }), false);
});

test("places in a ring close, those in a row do not", () => {
  const ring = Array.from({ length: 9 }, (_, i) => towards([0, 0], 40 * i, 88));
  assert.equal(isRing(ring), true);
  assert.equal(isRing([[0, 0], [10, 0], [20, 0]]), false);
});

test("things are pointed out in order, none twice, and the last one ends it", () => {
  const told = [];
  const store = { picking: null, set: (news) => Object.assign(store, news) };
  const words = [{ word: "from", told: "", wants: "part" }, { word: "to", told: "", wants: "part" }];
  store.set({ picking: { kind: "join", told: "a join", words, got: {}, done: (got) => told.push(got) } });
  pick(store, "left");
  assert.equal(wanted(store.picking)?.word, "to");
  pick(store, "left");
  assert.deepEqual(told, []);
  pick(store, "right");
  assert.deepEqual([told, store.picking], [[{ from: "left", to: "right" }], null]);
});
