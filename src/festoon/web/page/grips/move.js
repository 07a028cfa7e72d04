/** A drag of whole elements: it leans to lines, edges, points and axes, and the pen measures it. */

import { html, nothing } from "../vendor/lit/index.js";
import { around } from "../reckon/choice.js";
import { set, settled, standsAt } from "../reckon/edits.js";
import { showLength } from "../reckon/length.js";
import { FREE, leaned, magnets, reachAt } from "../reckon/magnets.js";
import { toCloth } from "../reckon/view.js";
import { leanings, measures, moveMeasures } from "../hand-marks.js";
import { listed } from "../words.js";

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Element} Element */

/** @implements {Grip} */
export class MoveGrip {
  /**
   * @param {import("../sheet.js").FestoonSheet} sheet
   * @param {Element[]} elements that stand at a place, the one that leans first
   * @param {Spot} start px
   */
  constructor(sheet, elements, start) {
    this.sheet = sheet;
    this.store = sheet.store;
    this.start = toCloth(sheet.view, start);
    this.starts = new Map(elements.map((element) => [element.name, /** @type {Spot} */ (standsAt(element))]));
    this.from = /** @type {Spot} */ (standsAt(elements[0]));
    this.at = this.from;
    this.held = FREE;
    this.magnets = this.#magnets();
  }

  #magnets() {
    const { store, starts } = this;
    const moving = store.parts.filter((part) => starts.has(part.element));
    const others = store.parts.flatMap(({ name, element, at, turn }) => (at && !starts.has(element) ? [{ name, at, turn }] : []));
    return magnets(/** @type {import("../types.js").Panel} */ (store.cloth), this.from, around(moving.map((part) => part.bounds)), others);
  }

  /**
   * @param {Spot} now
   * @param {boolean} free
   */
  moved(now, free) {
    const [x, y] = toCloth(this.sheet.view, now);
    const at = settled([this.from[0] + x - this.start[0], this.from[1] + y - this.start[1]], this.store.units);
    Object.assign(this, free ? { at, held: FREE } : leaned(at, this.magnets, reachAt(this.sheet.view.scale)));
  }

  /** @param {Spot} step */
  step(step) {
    this.at = rounded([this.at[0] + step[0], this.at[1] + step[1]]);
    this.held = FREE;
  }

  /** @returns {Spot} */
  get #by() {
    return [this.at[0] - this.from[0], this.at[1] - this.from[1]];
  }

  change() {
    const [dx, dy] = this.#by;
    if (!dx && !dy) return null;
    const edits = [...this.starts].map(([name, [x, y]]) => set(name, "at", rounded([x + dx, y + dy])));
    return { label: `moving ${listed([...this.starts.keys()])}`, edits };
  }

  /** @param {import("../types.js").Part} part */
  carried(part) {
    return this.starts.has(part.element) ? { shift: this.#by, turn: 0, about: this.from } : null;
  }

  /** @param {import("../reckon/view.js").View} view */
  over(view) {
    const { units, cloth } = this.store;
    return [leanings(view, /** @type {import("../types.js").Panel} */ (cloth).size, this.held, this.at), measures(view, this.at, units), moveMeasures(view, this.from, this.at, units)];
  }

  slip() {
    const { at, held, store } = this;
    const show = (/** @type {number} */ mm) => showLength(mm, store.units);
    const leans = [held.x, held.y, held.axis].flatMap((one) => one?.told ?? []).join("; ");
    return html`${show(at[0])} right, ${show(at[1])} down; moved by ${show(Math.hypot(...this.#by))}${leans ? html`<br>${leans}` : nothing}`;
  }
}

/** @typedef {import("./grip.js").Grip} Grip */

/**
 * @param {Spot} at
 * @returns {Spot}
 */
function rounded([x, y]) {
  return [Math.round(x * 1000) / 1000, Math.round(y * 1000) / 1000];
}
