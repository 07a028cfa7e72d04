import assert from "node:assert/strict";
import test from "node:test";
import { ticks } from "../../src/festoon/web/page/reckon/ruler.js";
import { ellipse, hull, onPanel } from "../../src/festoon/web/page/reckon/shapes.js";
import { centredOn, panned, pinched, toCloth, toScreen, wheeled, whole, zoomed } from "../../src/festoon/web/page/reckon/view.js";

const near = (a, b) => a.forEach((v, i) => assert.ok(Math.abs(v - b[i]) < 1e-9, `${a} is not ${b}`));

test("cloth to screen and back", () => {
  const view = { scale: 1.7, x: 31, y: -8 };
  near(toCloth(view, toScreen(view, [12.5, 80])), [12.5, 80]);
});

test("the whole panel lies in the middle and within the margin", () => {
  const view = whole([400, 200], [900, 900], 50);
  near([view.scale, ...toScreen(view, [200, 100])], [2, 450, 450]);
  near(toScreen(view, [0, 0]), [50, 250]);
});

test("what lies under the pointer stays there", () => {
  const view = zoomed({ scale: 2, x: 10, y: 20 }, 1.5, [110, 220]);
  near(toScreen(view, [50, 100]), [110, 220]);
  assert.equal(view.scale, 3);
  near(toScreen(panned(view, 5, -5), [50, 100]), [115, 215]);
});

test("no view so near or far that nothing is seen", () => {
  assert.equal(zoomed({ scale: 1, x: 0, y: 0 }, 1e9, [0, 0]).scale, 60);
  assert.equal(zoomed({ scale: 1, x: 0, y: 0 }, 1e-9, [0, 0]).scale, 0.05);
});

test("a place is brought to the middle", () => near(toScreen(centredOn([30, 40], [800, 600], 8), [30, 40]), [400, 300]));

test("rulers keep their labels apart at every scale, and end with the cloth", () => {
  for (const units of ["mm", "inch"]) {
    for (const scale of [0.2, 0.7, 1.6, 4, 12, 50]) {
      const all = ticks(400, scale, units);
      const labelled = all.filter((t) => t.label !== null).map((t) => t.at);
      for (let i = 1; i < labelled.length; i += 1) assert.ok((labelled[i] - labelled[i - 1]) * scale >= 50, `${units} ${scale}`);
      assert.ok(all[all.length - 1].at <= 400 + 1e-6);
    }
  }
  assert.deepEqual(ticks(100, 1.6, "mm").filter((t) => t.label).map((t) => t.label), ["50", "100"]);
});

test("the ellipse of 95 in 100: 2.448 standard deviations (tables of the Rayleigh spread)", () => {
  const round = ellipse([[1, 0], [0, 1]]);
  assert.ok(Math.abs(round.long - 2.4477) < 1e-4 && Math.abs(round.short - 2.4477) < 1e-4);
  const slant = ellipse([[2.5, 1.5], [1.5, 2.5]]); // eigenvalues 4 and 1, the longer along x = y
  assert.ok(Math.abs(slant.long / slant.short - 2) < 1e-9);
  assert.ok(Math.abs(slant.turn - 45) < 1e-9);
});

test("a quarter turn clockwise carries right to down", () => near(onPanel({ centre: [100, 50], turn: 90 }, [10, 0]), [100, 60]));

test("the hull of a square with a point within is the square", () => {
  assert.equal(hull([[0, 0], [2, 0], [1, 1], [2, 2], [0, 2], [1, 0]]).length, 4);
});

test("two fingers hold the cloth between them, carry it and part it", () => {
  const view = { scale: 2, x: 10, y: 20 };
  const now = pinched(view, [[100, 100], [200, 100]], [[90, 150], [290, 150]]);
  assert.equal(now.scale, 4);
  near(toScreen(now, toCloth(view, [150, 100])), [190, 150]);
  near(Object.values(pinched(view, [[0, 0], [100, 0]], [[30, 40], [130, 40]])), [2, 40, 60]);
});

test("a mouse's wheel brings closer; two fingers on a trackpad move the sheet, and pinching brings closer", () => {
  const view = { scale: 1, x: 0, y: 0 };
  const wheel = (more, sliding = false) => wheeled(view, { deltaX: 0, deltaY: 0, deltaMode: 0, ctrlKey: false, shiftKey: false, ...more }, [0, 0], sliding);
  assert.ok(wheel({ deltaY: -100 }).view.scale > 1);
  assert.ok(wheel({ deltaY: -3, deltaMode: 1 }).view.scale > 1, "told in lines");
  assert.deepEqual(wheel({ deltaY: 8 }), { view: { scale: 1, x: 0, y: -8 }, slid: true });
  assert.deepEqual(wheel({ deltaX: -60, deltaY: 70 }).view, { scale: 1, x: 60, y: -70 });
  assert.deepEqual(wheel({ deltaY: 90 }, true).view, { scale: 1, x: 0, y: -90 }, "a quick flick of the same gesture");
  assert.ok(wheel({ deltaY: -6, ctrlKey: true }).view.scale > 1);
  assert.deepEqual(wheel({ deltaY: 100, shiftKey: true }).view, { scale: 1, x: -100, y: 0 });
});
