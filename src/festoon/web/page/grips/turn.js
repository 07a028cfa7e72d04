/** Turning an element by its handle, or by keys: about its own place, to whole steps unless free. */

import { html, nothing } from "../vendor/lit/index.js";
import { turnBetween } from "../reckon/carry.js";
import { set, TURN, turnOf, withinTurn } from "../reckon/edits.js";
import { plainNumber } from "../reckon/length.js";
import { toScreen } from "../reckon/view.js";

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Part} Part */

/** Degrees to which a free turn is rounded. */
const GRAIN = 0.1;

/** @implements {Grip} */
export class TurnGrip {
  /**
   * @param {import("../sheet.js").FestoonSheet} sheet
   * @param {import("../types.js").Element} element that can be turned
   * @param {Part} part of it, about whose place the hand turns
   * @param {Spot} start px
   */
  constructor(sheet, element, part, start) {
    this.sheet = sheet;
    this.element = element;
    this.part = part;
    this.start = start;
    this.from = turnOf(element) ?? 0;
    this.to = this.from;
    this.mirrored = element.words.mirror === true;
  }

  /**
   * @param {Spot} now
   * @param {boolean} free
   */
  moved(now, free) {
    const about = toScreen(this.sheet.view, /** @type {Spot} */ (this.part.at));
    const grain = free ? GRAIN : TURN;
    const to = this.from + this.#way(this.part) * turnBetween(about, this.start, now);
    this.to = withinTurn(Math.round(Math.round(to / grain) * grain * 10) / 10);
  }

  /**
   * Right and down turn clockwise, by a degree; far, by a whole step.
   * @param {Spot} step
   * @param {boolean} far
   */
  step([x, y], far) {
    this.to = withinTurn(this.to + (x + y > 0 ? 1 : -1) * (far ? TURN : 1));
  }

  change() {
    if (this.to === this.from) return null;
    return { label: `turning ${this.element.name}`, edits: [set(this.element.name, "turn", this.to)] };
  }

  /** One of a pair that is mirrored against its element turns the other way. @param {Part} part */
  #way(part) {
    return part.mirrored === this.mirrored ? 1 : -1;
  }

  /** @param {Part} part */
  carried(part) {
    const turn = this.#way(part) * withinTurn(this.to - this.from);
    return part.element === this.element.name && part.at ? { shift: /** @type {Spot} */ ([0, 0]), turn, about: part.at } : null;
  }

  get degrees() {
    return this.to;
  }

  over() {
    return nothing;
  }

  slip() {
    return html`turned ${plainNumber(this.to, 1)}°`;
  }
}

/** @typedef {import("./grip.js").Grip} Grip */
