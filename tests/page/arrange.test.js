import assert from "node:assert/strict";
import test from "node:test";
import { align, around, begun, fitting, inRing, inRow, spread } from "../../src/festoon/web/page/reckon/arrange.js";

/** A thing w by h whose point lies off its middle. */
const thing = (name, x, y, w, h, by = [0, 0]) => ({ name, at: [x + by[0], y + by[1]], bounds: [x - w / 2, y - h / 2, x + w / 2, y + h / 2] });
const THREE = [thing("a", 50, 40, 20, 30, [0, 15]), thing("b", 120, 90, 40, 10, [-3, 2]), thing("c", 210, 60, 60, 50)];

/** The things where they were set. */
const set = (all, stands) => all.map((one) => {
  const { at } = stands.find(({ name }) => name === one.name);
  const [dx, dy] = [at[0] - one.at[0], at[1] - one.at[1]];
  return { ...one, at, bounds: [one.bounds[0] + dx, one.bounds[1] + dy, one.bounds[2] + dx, one.bounds[3] + dy] };
});
const same = (values, what) => values.forEach((v) => assert.ok(Math.abs(v - values[0]) < 0.0011, `${what}: ${values}`));
const middle = (one, axis) => (one.bounds[axis] + one.bounds[axis + 2]) / 2;

test("aligned things agree in what they were aligned by, and keep their other place", () => {
  const ways = { left: (o) => o.bounds[0], middle: (o) => middle(o, 0), right: (o) => o.bounds[2], plumb: (o) => o.at[0], top: (o) => o.bounds[1], level: (o) => middle(o, 1), bottom: (o) => o.bounds[3], points: (o) => o.at[1] };
  for (const [way, of] of Object.entries(ways)) {
    const now = set(THREE, align(THREE, way));
    same(now.map(of), way);
    const other = ["left", "middle", "right", "plumb"].includes(way) ? 1 : 0;
    assert.deepEqual(now.map((o) => o.at[other]), THREE.map((o) => o.at[other]), way);
    assert.deepEqual(set(now, align(now, way)), now, `${way}: once is enough`);
  }
});

test("edges go to the outermost", () => {
  assert.equal(Math.min(...set(THREE, align(THREE, "left")).map((o) => o.bounds[0])), 40);
  assert.equal(Math.max(...set(THREE, align(THREE, "right")).map((o) => o.bounds[2])), 240);
  assert.equal(set(THREE, align(THREE, "level"))[0].bounds[1], 50); // halfway between middles at 40 and 90 is 65
});

test("spread by gaps: gaps alike, the outermost where they were, none overtakes another", () => {
  for (const axis of [0, 1]) {
    const stands = spread(THREE, axis, "gaps");
    const now = stands.map(({ name }) => set(THREE, stands).find((o) => o.name === name));
    same([0, 1].map((i) => now[i + 1].bounds[axis] - now[i].bounds[axis + 2]), `gaps ${axis}`);
    for (const end of [now[0], now[2]]) assert.deepEqual(end.at, THREE.find((o) => o.name === end.name).at);
  }
});

test("spread by middles: steps alike", () => {
  const stands = spread(THREE, 0, "middles");
  const now = set(THREE, stands);
  same([middle(now[1], 0) - middle(now[0], 0), middle(now[2], 0) - middle(now[1], 0)], "steps");
  assert.deepEqual(now[1].bounds[1], THREE[1].bounds[1]);
});

test("a row: the wished distance, in its direction, its middle staying", () => {
  const stands = inRow(THREE, 30, 90);
  assert.deepEqual(stands.map((s) => s.name), ["a", "c", "b"]); // from the uppermost point down
  stands.slice(1).forEach((s, i) => assert.ok(Math.abs(s.at[1] - stands[i].at[1] - 30) < 0.0011));
  const sum = (all, i) => all.reduce((t, s) => t + s.at[i], 0);
  assert.ok(Math.abs(sum(stands, 0) - sum(THREE, 0)) < 0.01 && Math.abs(sum(stands, 1) - sum(THREE, 1)) < 0.01);
});

test("a ring: all equally far from the middle, even steps, the first at the top, clockwise", () => {
  const four = [thing("n", 100, 60, 8, 8), thing("e", 140, 100, 8, 8), thing("s", 100, 140, 8, 8), thing("w", 60, 100, 8, 8)];
  assert.deepEqual(inRing(four, 40, false).map(({ name, at }) => ({ name, at })), four.map(({ name, at }) => ({ name, at })));
  const wide = inRing(four, 50, true);
  assert.deepEqual(wide[0], { name: "n", at: [100, 50], turn: 0 });
  assert.deepEqual(wide[1], { name: "e", at: [150, 100], turn: 90 });
  for (const { at } of wide) assert.ok(Math.abs(Math.hypot(at[0] - 100, at[1] - 100) - 50) < 0.0011);
});

test("what fits: things in a row or ring of it do not touch", () => {
  const { spacing, radius } = fitting(THREE, "mm");
  assert.ok(spacing > 60);
  assert.ok(2 * radius * Math.sin(Math.PI / 3) > Math.hypot(60, 50) * 0.8);
  assert.equal(spacing, Math.floor(spacing));
});

test("an arrangement that is begun stays on the cloth", () => {
  const one = thing("a", 150, 100, 40, 60, [0, 30]);
  const ring = begun("ring", one, [200, 150], [400, 300], "", "mm");
  assert.deepEqual(Object.keys(ring), ["count", "radius"]);
  const reach = Math.hypot(20, 60);
  assert.ok(ring.radius + reach <= 150, `${ring.radius}`);
  const row = begun("row", one, [200, 150], [400, 300], "", "mm");
  assert.ok(row.spacing >= 40 && row.spacing + 20 <= 200);
  assert.ok(begun("pair", one, [200, 150], [400, 300], "", "mm").apart >= 40);
  assert.deepEqual(begun("along", one, [200, 150], [400, 300], "hem", "mm"), { line: "hem", spacing: 69 });
  assert.ok(begun("row", one, [22, 150], [400, 300], "", "mm").spacing > 0); // no room at all: still a row, for the server to judge
});

test("in inches what is begun is whole sixteenths", () => {
  const { spacing } = begun("row", thing("a", 150, 100, 40, 60), [200, 150], [400, 300], "", "inch");
  assert.ok(Math.abs(spacing / 1.5875 - Math.round(spacing / 1.5875)) < 1e-3, `${spacing}`);
});

test("what all cover", () => assert.deepEqual(around(THREE.map((o) => o.bounds)), [40, 25, 240, 95]));
