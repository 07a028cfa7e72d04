import assert from "node:assert/strict";
import test from "node:test";
import { freeName, freePlace, laying } from "../../src/festoon/web/page/reckon/bring-in.js";

const part = (name, bounds, panel = "cloth") => ({ name, panel, bounds });
const piece = (parts = [], elements = [], panels = [{ name: "cloth", size: [400, 300] }]) => ({ parts, elements, panels });
const box = ([x, y], [w, h]) => [x - w / 2, y - h / 2, x + w / 2, y + h / 2];
const apart = (a, b) => Math.max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3]);

test("a name is made of the file's, and is free", () => {
  assert.equal(freeName("motifs/Rose_01.dst", []), "Rose_01");
  assert.equal(freeName("motifs/Rose.dst", ["rose", "Rose 2"]), "Rose 3");
  assert.equal(freeName("motifs/rose-3.vp3", []), "rose 3"); // -3 would be the third repeat of a rose
  assert.equal(freeName("motifs/été & Blüte!.pes", []), "été Blüte");
  assert.equal(freeName("motifs/(1).jef", []), "1");
  assert.equal(freeName("motifs/...vp3", []), "motif");
  assert.ok(freeName(`motifs/${"long ".repeat(30)}.vp3`, []).length <= 60);
});

test("one motif stands in the middle, or just where it was let go", () => {
  const motifs = [{ file: "motifs/a.vp3", size: [40, 60] }];
  assert.deepEqual(laying(motifs, piece(), "cloth", null)[0], { do: "add", element: { kind: "motif", name: "a", file: "motifs/a.vp3", at: [200, 150] } });
  const laid = laying(motifs, piece([part("b", [90, 90, 110, 110])]), "cloth", [101.234, 99]);
  assert.deepEqual(laid[0].element.at, [101.23, 99]);
});

test("let go near an edge, it is moved onto the cloth", () => {
  const [edit] = laying([{ file: "a.vp3", size: [40.01, 60] }], piece(), "cloth", [3, 299]);
  const [left, top, right, bottom] = box(edit.element.at, [40.01, 60]);
  assert.ok(left >= 0 && top >= 0 && right <= 400 && bottom <= 300);
  assert.ok(left < 0.02 && bottom > 299.9);
});

test("several lie apart from each other and from what is there", () => {
  const there = [part("wreath", [150, 100, 250, 200])];
  const motifs = [[40, 60], [90, 20], [57.3, 39.2], [40, 60]].map((size, n) => ({ file: `motifs/m${n}.vp3`, size }));
  for (const at of [null, [40, 250]]) {
    const boxes = [...there.map((p) => p.bounds), ...laying(motifs, piece(there), "cloth", at).map((e, n) => box(e.element.at, motifs[n].size))];
    boxes.forEach((a, i) => boxes.slice(i + 1).forEach((b) => assert.ok(apart(a, b) >= 4, `${a} and ${b}`)));
    boxes.forEach(([left, top, right, bottom]) => assert.ok(left >= 0 && top >= 0 && right <= 400 && bottom <= 300));
  }
});

test("the nearest free place is taken", () => {
  assert.deepEqual(freePlace([20, 20], [400, 300], [[180, 140, 220, 160]], [200, 150]), [200, 120]);
});

test("on a full cloth, or one that is too small, it lies as near as may be", () => {
  assert.deepEqual(freePlace([20, 20], [400, 300], [[0, 0, 400, 300]], [50, 60]), [50, 60]);
  assert.deepEqual(freePlace([500, 20], [400, 300], [], [50, 60]), [200, 60]);
});

test("a cloth of many metres is soon searched", () => {
  assert.deepEqual(freePlace([20, 20], [100000, 100000], [[0, 0, 100000, 100000]], [5, 60]), [10, 60]);
});

test("names and boxes are those of the panel that is shown, where there are several", () => {
  const panels = [{ name: "front", size: [400, 300] }, { name: "back", size: [200, 200] }];
  const [one, two] = laying(["a", "b"].map((n) => ({ file: `motifs/${n}.vp3`, size: [20, 20] })), piece([part("a", [0, 0, 400, 300], "front")], [{ name: "a" }], panels), "back", null);
  assert.deepEqual(one.element, { kind: "motif", name: "a 2", panel: "back", file: "motifs/a.vp3", at: [100, 100] });
  assert.equal(two.element.name, "b");
  assert.equal(apart(box(one.element.at, [20, 20]), box(two.element.at, [20, 20])), 10);
});
