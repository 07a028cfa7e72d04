/**
 * The first sketch: the cloth and its thread, plainly drawn where the sheet is going to lie, while the page is still on
 * its way. The sheet takes it over as soon as it knows the piece, and puts it away when its own thread is painted.
 */

import { drawerShut } from "./liked.js";
import { statesOf } from "./reckon/carry.js";
import { laidThread, readStitches, thinned } from "./reckon/stitches.js";
import { MARGIN, toScreen, whole } from "./reckon/view.js";
import { PlainThread, screenRatio } from "./thread-plain.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./reckon/view.js").View} View */

/** @type {{table: HTMLElement, canvas: HTMLCanvasElement, view: View} | null} */
let lying = null;
/** Whether the sheet shows the piece itself, so that nothing is sketched any more. */
let late = false;

/**
 * Draws the piece as it lies when all of it is shown, unless the sheet was quicker. Fails where the stitching does not come.
 * @param {import("./server.js").Ahead} ahead
 */
export async function sketch({ piece, stitches }) {
  const [cloth] = piece.panels;
  const laid = laidThread(readStitches(await stitches), piece.parts);
  if (!cloth || late) return;
  const tissue = made("div", "tissue");
  const table = bareTable(tissue);
  document.body.append(table);
  const box = /** @type {Spot} */ ([tissue.clientWidth, tissue.clientHeight]);
  const view = whole(cloth.size, box, MARGIN);
  const thin = thinned(laid, 1 / (view.scale * screenRatio())); // to a px of the screen: it is seen for a moment only
  const canvas = threadOn(thin, piece.parts, cloth.name, box, view);
  tissue.append(clothAt(view, cloth.size), canvas);
  lying = { table, canvas, view };
}

/**
 * Has the sheet show the sketch in place of its own thread; puts it away where it would not lie as the sheet does.
 * @param {Element} cloth the sheet's own, upon which it is laid
 * @param {View} view the sheet's
 */
export function takeSketchOver(cloth, view) {
  if (late) return;
  late = true;
  if (!lying) return;
  const { table, canvas, view: { scale, x, y } } = lying;
  if (scale !== view.scale || x !== view.x || y !== view.y) putSketchAway();
  else cloth.after(canvas);
  table.remove();
}

/** Whether the sketch still lies on the sheet. */
export const sketchLies = () => lying !== null;

export function putSketchAway() {
  late = true;
  lying?.table.remove();
  lying?.canvas.remove();
  lying = null;
}

/**
 * A canvas as large as the window, with the thread of a panel on it.
 * @param {import("./reckon/stitches.js").Laid} laid
 * @param {import("./types.js").Part[]} parts
 * @param {string} panel
 * @param {Spot} box px
 * @param {View} view
 */
function threadOn(laid, parts, panel, [width, height], view) {
  const canvas = made("canvas", "thread");
  const ratio = screenRatio();
  const thread = new PlainThread(canvas);
  thread.load(laid);
  thread.begin(width * ratio, height * ratio, { scale: view.scale * ratio, x: view.x * ratio, y: view.y * ratio }, statesOf(parts, () => 1));
  parts.forEach((part, n) => {
    if (part.panel === panel) thread.add(laid.firsts[n], laid.firsts[n + 1]);
  });
  Object.assign(canvas.style, { width: `${width}px`, height: `${height}px` });
  return canvas;
}

/** The table with nothing on it but the sheet's window: everything else takes its room only. @param {HTMLElement} tissue */
function bareTable(tissue) {
  const drawer = made("div", "drawer-place", made("div", `drawer ${drawerShut() ? "shut" : ""}`));
  const table = made("div", "first-sketch",
    made("div", "top", made("div", "name"), made("div", "stages"), made("div", "tools")),
    made("div", "table lay-out", drawer, made("div", "sheet", tissue), made("div", "ledger")));
  table.ariaHidden = "true";
  return table;
}

/**
 * @param {View} view
 * @param {Spot} size mm
 */
function clothAt(view, size) {
  const [[x, y], [right, bottom]] = [toScreen(view, [0, 0]), toScreen(view, size)];
  const under = drawn("svg", { class: "under" });
  for (const name of ["cloth", "cut"]) under.append(drawn("rect", { class: name, x, y, width: right - x, height: bottom - y }));
  return under;
}

/**
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {string} name
 * @param {HTMLElement[]} inside
 */
function made(tag, name, ...inside) {
  const element = document.createElement(tag);
  element.className = name;
  element.append(...inside);
  return element;
}

/**
 * @param {string} tag
 * @param {Record<string, string | number>} marks
 */
function drawn(tag, marks) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(marks)) element.setAttribute(name, String(value));
  return element;
}
