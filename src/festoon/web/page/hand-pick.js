/** Pointing out on the sheet, by pointer, finger or keys, what is asked for. */

import { LinkGrip } from "./grips/link.js";
import { pickMarks } from "./hand-marks.js";
import { pick, wanted } from "./picking.js";
import { settled } from "./reckon/edits.js";
import { toCloth } from "./reckon/view.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("./sheet.js").FestoonSheet} Sheet */

/**
 * What a press comes to while something is asked for; null where it only moves the sheet.
 * @param {Sheet} sheet
 * @param {EventTarget | null} target
 * @param {Spot} at px
 * @param {Part | null} part under the pointer
 * @returns {import("./hand.js").Press | null}
 */
export function pickPress(sheet, target, at, part) {
  const { store } = sheet;
  const wants = wanted(store.picking)?.wants;
  const line = lineOf(target);
  if (wants === "part" && part) return { take: () => new LinkGrip(sheet, part), click: () => pick(store, part.name) };
  if (wants === "line" && line) return { take: () => null, click: () => pick(store, line) };
  if (wants === "place") return { take: () => null, click: () => pickPlace(sheet, toCloth(sheet.view, at)) };
  return null;
}

/**
 * Enter on what has the focus; on the sheet itself, a place is the middle of what is seen. Gives whether it was asked for.
 * @param {Sheet} sheet
 * @param {EventTarget | null} target
 * @param {Part | null} part
 */
export function pickByKey(sheet, target, part) {
  const { store } = sheet;
  const wants = wanted(store.picking)?.wants;
  const line = lineOf(target);
  if (wants === "part" && part) pick(store, part.name);
  else if (wants === "line" && line) pick(store, line);
  else if (wants === "place") pickPlace(sheet, part?.at ?? toCloth(sheet.view, [sheet.box[0] / 2, sheet.box[1] / 2]));
  else return false;
  return true;
}

/**
 * What has been pointed out already, and the lines that may be.
 * @param {import("./store.js").Store} store
 * @param {import("./reckon/view.js").View} view
 */
export function pickable(store, view) {
  const got = Object.values(store.picking?.got ?? {});
  const lines = wanted(store.picking)?.wants === "line" ? store.cloth?.lines ?? {} : {};
  return pickMarks(view, store.parts.filter((part) => got.includes(part.name)), lines);
}

/**
 * @param {Sheet} sheet
 * @param {Spot} at mm
 */
function pickPlace({ store }, at) {
  pick(store, settled(at, store.units));
}

/** @param {EventTarget | null} target */
function lineOf(target) {
  return /** @type {Element} */ (target).closest("[data-line]")?.getAttribute("data-line");
}
