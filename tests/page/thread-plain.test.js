import assert from "node:assert/strict";
import test from "node:test";
import { matrixOf, STATE } from "../../src/festoon/web/page/reckon/carry.js";
import { PlainThread } from "../../src/festoon/web/page/thread-plain.js";

/** A canvas that notes every stroke: its style, how opaque it is, and its lines. */
function noting() {
  const strokes = [];
  let lines = [];
  let from = [];
  const context = {
    setTransform() {},
    beginPath: () => { lines = []; },
    moveTo: (x, y) => { from = [x, y]; },
    lineTo: (x, y) => { lines.push([...from, x, y]); },
    stroke() { strokes.push({ style: context.strokeStyle, alpha: context.globalAlpha, lines }); },
  };
  return { canvas: { getContext: () => context }, strokes };
}

const RED = [200, 0, 0, 255];
const laid = {
  count: 4,
  segments: new Float32Array([0, 0, 2, 0, 2, 0, 4, 0, 4, 0, 4, 2, 1, 0, 3, 0]),
  colours: new Uint8Array([...RED, ...RED, ...RED, ...RED]),
  parts: new Uint16Array([0, 0, 0, 1]),
  firsts: new Uint32Array([0, 3, 4]),
};
const states = new Float32Array(2 * STATE);
states.set([...matrixOf(null), 1], 0);
states.set([...matrixOf({ shift: [10, 5], turn: 0, about: [0, 0] }), 0.5], STATE);

test("every stitch is drawn once, where its part is carried and as opaque as that is", () => {
  const { canvas, strokes } = noting();
  const thread = new PlainThread(canvas);
  thread.load(laid);
  thread.begin(10, 10, { scale: 2, x: 0, y: 0 }, states);
  thread.add(0, 4);
  assert.deepEqual(strokes.map(({ lines }) => lines), [[[0, 0, 2, 0], [2, 0, 4, 0]], [[4, 0, 4, 2]], [[11, 5, 13, 5]]]);
  assert.deepEqual(strokes.map(({ alpha }) => alpha), [1, 1, 0.5]);
});

test("one thread lies darker or lighter by its way to the light, and never beyond white", () => {
  const { canvas, strokes } = noting();
  const thread = new PlainThread(canvas);
  thread.load({ ...laid, colours: new Uint8Array(laid.colours).fill(250) });
  thread.begin(10, 10, { scale: 2, x: 0, y: 0 }, states);
  thread.add(0, 3);
  assert.deepEqual(strokes.map(({ style }) => style), ["rgb(255 255 255)", "rgb(230 230 230)"]);
});

test("where there is nothing to draw, nothing is stroked", () => {
  const { canvas, strokes } = noting();
  const thread = new PlainThread(canvas);
  thread.load(laid);
  thread.begin(10, 10, { scale: 2, x: 0, y: 0 }, states);
  thread.add(2, 2);
  assert.deepEqual(strokes, []);
});
