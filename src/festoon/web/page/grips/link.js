/** Pointing out parts, one after the other, or with one drag from the first to the second. */

import { nothing } from "../vendor/lit/index.js";
import { pick, wanted } from "../picking.js";
import { middle } from "../reckon/shapes.js";
import { toScreen } from "../reckon/view.js";
import { linkMark } from "../hand-marks.js";

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Part} Part */

/** @implements {Grip} */
export class LinkGrip {
  /**
   * @param {import("../sheet.js").FestoonSheet} sheet
   * @param {Part} part where it begins
   */
  constructor(sheet, part) {
    this.sheet = sheet;
    this.part = part;
    /** @type {Spot | null} */
    this.now = null;
  }

  /** @param {Spot} now */
  moved(now) {
    this.now = now;
  }

  change() {
    return null;
  }

  /** @param {Part | null} up */
  dropped(up) {
    const { store } = this.sheet;
    pick(store, this.part.name);
    if (up && up !== this.part && wanted(store.picking)?.wants === "part") pick(store, up.name);
  }

  /** @param {import("../reckon/view.js").View} view */
  over(view) {
    return this.now ? linkMark(toScreen(view, this.part.at ?? middle(this.part.bounds)), this.now) : nothing;
  }

  slip() {
    return `from ${this.part.name} to …`;
  }
}

/** @typedef {import("./grip.js").Grip} Grip */
