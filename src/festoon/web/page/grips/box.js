/** A box drawn over the cloth: it chooses what lies wholly in it, beside what is chosen already. */

import { svg } from "../vendor/lit/index.js";
import { boxOf, inside } from "../reckon/choice.js";
import { toCloth } from "../reckon/view.js";
import { counted } from "../words.js";

/** @typedef {import("../types.js").Spot} Spot */

/** @implements {Grip} */
export class BoxGrip {
  /**
   * @param {import("../sheet.js").FestoonSheet} sheet
   * @param {Spot} start px
   */
  constructor(sheet, start) {
    this.sheet = sheet;
    this.start = start;
    this.now = start;
  }

  /** @param {Spot} now */
  moved(now) {
    this.now = now;
  }

  get #names() {
    const { view, store } = this.sheet;
    const found = inside(store.parts, boxOf(toCloth(view, this.start), toCloth(view, this.now)));
    return [...store.chosen.filter((name) => !found.includes(name)), ...found];
  }

  change() {
    return null;
  }

  dropped() {
    this.sheet.store.choose(this.#names);
  }

  over() {
    const [x, y, right, bottom] = boxOf(this.start, this.now);
    return svg`<rect class="box" x=${x} y=${y} width=${right - x} height=${bottom - y}></rect>`;
  }

  slip() {
    const n = this.#names.length;
    return `${counted(n)} ${n === 1 ? "part" : "parts"} chosen`;
  }
}

/** @typedef {import("./grip.js").Grip} Grip */
