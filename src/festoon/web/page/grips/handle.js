/** A drag of one of an element's handles: it sets the handle's word, a place or a length. */

import { html } from "../vendor/lit/index.js";
import { onGrain, set, settled } from "../reckon/edits.js";
import { isLength, lengthAt, placeAt } from "../reckon/handles.js";
import { showLength } from "../reckon/length.js";
import { FREE, leaned, magnets, reachAt } from "../reckon/magnets.js";
import { toCloth } from "../reckon/view.js";
import { leanings } from "../hand-marks.js";

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Handle} Handle */

/** @implements {Grip} */
export class HandleGrip {
  /**
   * @param {import("../sheet.js").FestoonSheet} sheet
   * @param {import("../types.js").Element} element
   * @param {Handle} handle of it
   * @param {Spot} start px
   */
  constructor(sheet, element, handle, start) {
    this.sheet = sheet;
    this.store = sheet.store;
    this.element = element;
    this.handle = handle;
    this.start = toCloth(sheet.view, start);
    this.at = handle.at;
    this.value = handle.value ?? 0;
    this.held = FREE;
    const others = this.store.parts.flatMap(({ name, at, turn }) => (at ? [{ name, at, turn }] : []));
    this.magnets = magnets(/** @type {import("../types.js").Panel} */ (this.store.cloth), handle.at, null, others);
  }

  /**
   * @param {Spot} now
   * @param {boolean} free
   */
  moved(now, free) {
    const { handle, store, sheet } = this;
    const [x, y] = toCloth(sheet.view, now);
    const by = /** @type {Spot} */ ([x - this.start[0], y - this.start[1]]);
    if (isLength(handle)) return this.#lengthen(lengthAt(handle, by));
    const at = settled([handle.at[0] + by[0], handle.at[1] + by[1]], store.units);
    Object.assign(this, free ? { at, held: FREE } : leaned(at, this.magnets, reachAt(sheet.view.scale)));
  }

  /** @param {Spot} step */
  step(step) {
    const { handle } = this;
    if (isLength(handle)) return this.#lengthen(this.value + lengthAt({ ...handle, value: 0 }, step));
    this.at = /** @type {Spot} */ ([this.at[0] + step[0], this.at[1] + step[1]].map((v) => Math.round(v * 1000) / 1000));
  }

  /** @param {number} value */
  #lengthen(value) {
    this.value = onGrain(value, this.store.units);
    if (isLength(this.handle)) this.at = placeAt(this.handle, this.value);
  }

  change() {
    const { element, handle, at, value } = this;
    if (at[0] === handle.at[0] && at[1] === handle.at[1]) return null;
    const what = isLength(handle) ? `changing ${nameOf(handle)}` : `moving ${handle.name}`;
    return { label: `${what} of ${element.name}`, edits: [set(element.name, handle.word, isLength(handle) ? value : at)] };
  }

  get pull() {
    return { handle: this.handle, at: this.at, value: this.value };
  }

  /** @param {import("../reckon/view.js").View} view */
  over(view) {
    return leanings(view, /** @type {import("../types.js").Panel} */ (this.store.cloth).size, this.held, this.at);
  }

  slip() {
    const { handle, at, value, held, store } = this;
    const show = (/** @type {number} */ mm) => showLength(mm, store.units);
    if (isLength(handle)) return html`${nameOf(handle)} ${show(value)}`;
    const leans = [held.x, held.y, held.axis].flatMap((one) => one?.told ?? []).join("; ");
    return html`${show(at[0])} right, ${show(at[1])} down${leans ? `; ${leans}` : ""}`;
  }
}

/** What a handle's word is called: the last of "ring.radius". @param {Handle} handle */
const nameOf = ({ word }) => word.slice(word.lastIndexOf(".") + 1);

/** @typedef {import("./grip.js").Grip} Grip */
