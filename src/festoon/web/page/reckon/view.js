/** How the sheet is seen: `scale` px per mm, and where on the screen the panel's corner lies. */

/** @typedef {{scale: number, x: number, y: number}} View */
/** @typedef {import("../types.js").Spot} Spot */

/** CSS pixels per mm at true size: a CSS inch is 96 px (CSS Values and Units). */
export const TRUE_SIZE = 96 / 25.4;
export const CLOSEST = 60;
export const FARTHEST = 0.05;
/** px kept free all round where the sheet shows the whole panel. */
export const MARGIN = 44;

/**
 * @param {View} view
 * @param {Spot} at mm
 * @returns {Spot} px
 */
export function toScreen(view, at) {
  return [view.x + view.scale * at[0], view.y + view.scale * at[1]];
}

/**
 * @param {View} view
 * @param {Spot} px
 * @returns {Spot} mm
 */
export function toCloth(view, px) {
  return [(px[0] - view.x) / view.scale, (px[1] - view.y) / view.scale];
}

/**
 * The whole panel in a window of `box` px, with `margin` px kept free all round.
 * @param {Spot} size mm
 * @param {Spot} box px
 * @param {number} margin px
 * @returns {View}
 */
export function whole(size, box, margin) {
  const scale = clamp(Math.min((box[0] - 2 * margin) / size[0], (box[1] - 2 * margin) / size[1]));
  return { scale, x: (box[0] - scale * size[0]) / 2, y: (box[1] - scale * size[1]) / 2 };
}

/**
 * Nearer or farther by `factor`; what lies under `px` stays there.
 * @param {View} view
 * @param {number} factor
 * @param {Spot} px
 * @returns {View}
 */
export function zoomed(view, factor, px) {
  const scale = clamp(view.scale * factor);
  const held = toCloth(view, px);
  return { scale, x: px[0] - scale * held[0], y: px[1] - scale * held[1] };
}

/**
 * @param {View} view
 * @param {number} dx px
 * @param {number} dy px
 * @returns {View}
 */
export function panned(view, dx, dy) {
  return { ...view, x: view.x + dx, y: view.y + dy };
}

/**
 * Two fingers moved: the cloth under the middle between them stays there, and grows as they part.
 * @param {View} view
 * @param {[Spot, Spot]} before px
 * @param {[Spot, Spot]} now px
 * @returns {View}
 */
export function pinched(view, before, now) {
  const [from, to] = [between(before), between(now)];
  return zoomed(panned(view, to[0] - from[0], to[1] - from[1]), apart(now) / Math.max(1, apart(before)), to);
}

/**
 * @param {[Spot, Spot]} two
 * @returns {Spot}
 */
function between([p, q]) {
  return [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
}

/** @param {[Spot, Spot]} two */
function apart([p, q]) {
  return Math.hypot(q[0] - p[0], q[1] - p[1]);
}

/** px of one step below which a wheel is taken for a trackpad: a mouse's notch is 100 or more (browsers' practice). */
const NOTCH = 50;
/** Zooming by a px of wheel, and by a px of pinching, which browsers tell as a wheel with Ctrl. */
const WHEEL = 0.0015;
const PINCH = 0.01;

/**
 * What a wheel does to the view: a mouse's wheel brings closer or farther, as does pinching on a trackpad; two fingers that
 * slide on a trackpad, or a wheel with Shift, move the sheet.
 * @param {View} view
 * @param {{deltaX: number, deltaY: number, deltaMode: number, ctrlKey: boolean, shiftKey: boolean}} event
 * @param {Spot} px where the pointer is
 * @param {boolean} sliding whether the same gesture has slid before: its last steps may look like a wheel's
 * @returns {{view: View, slid: boolean}}
 */
export function wheeled(view, event, px, sliding) {
  const [dx, dy] = event.deltaMode ? [event.deltaX * NOTCH, event.deltaY * NOTCH] : [event.deltaX, event.deltaY];
  if (event.ctrlKey) return { view: zoomed(view, Math.exp(-dy * PINCH), px), slid: false };
  if (event.shiftKey) return { view: panned(view, -(dx || dy), 0), slid: false };
  const slid = event.deltaMode === 0 && (dx !== 0 || sliding || Math.abs(dy) < NOTCH);
  return slid ? { view: panned(view, -dx, -dy), slid } : { view: zoomed(view, Math.exp(-dy * WHEEL), px), slid };
}

/**
 * A place brought to the middle of the window.
 * @param {Spot} at mm
 * @param {Spot} box px
 * @param {number} scale px per mm
 * @returns {View}
 */
export function centredOn(at, box, scale) {
  const kept = clamp(scale);
  return { scale: kept, x: box[0] / 2 - kept * at[0], y: box[1] / 2 - kept * at[1] };
}

/** @param {number} scale */
function clamp(scale) {
  return Math.min(CLOSEST, Math.max(FARTHEST, scale));
}
