/** The hand on the sheet among the hoopings: chooses one by its number, and moves the field of the chosen one. */

import { html, nothing } from "./vendor/lit/index.js";
import { measures } from "./hand-marks.js";
import { movedFrame } from "./hoop-marks.js";
import { nudge } from "./reckon/edits.js";
import { MM_PER_INCH, showLength } from "./reckon/length.js";
import { toCloth } from "./reckon/view.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./types.js").Hooping} Hooping */
/** @typedef {import("./stages/stage.js").Hand} Holding */

/** ms after the last arrow key before the field is laid. */
const SETTLE = 500;
/** mm that the middle of a field is set to in dragging: whole places are quick to find again on the cloth. */
const GRAIN = { mm: 0.5, inch: MM_PER_INCH / 16 };

/** @implements {Holding} */
export class HoopHand {
  /**
   * @param {import("./sheet.js").FestoonSheet} sheet
   * @param {(hooping: Hooping, at: Spot) => Promise<boolean>} lay
   */
  constructor(sheet, lay) {
    this.sheet = sheet;
    this.store = sheet.store;
    this.lay = lay;
    /** @type {{number: number, start: Spot} | null} */
    this.press = null;
    /** @type {{hooping: Hooping, from: Spot, at: Spot, before: string, kept: boolean} | null} before: the revision that it is of;
     *   kept: it is laid, and the division still to come */
    this.move = null;
    this.settling = 0;
  }

  get busy() {
    return this.#moving !== null;
  }

  /** What is being moved; a field that is laid is drawn there until the new division has come. */
  get #moving() {
    const { division } = this.store;
    if (this.move && division && division.revision !== this.move.before) this.move = null;
    return this.move;
  }

  /**
   * @param {PointerEvent} event
   * @param {Spot} at
   */
  down(event, at) {
    const number = numberOf(event.target);
    this.press = number && this.store.division ? { number, start: toCloth(this.sheet.view, at) } : null;
    return this.press !== null;
  }

  /**
   * @param {PointerEvent} event
   * @param {Spot} now
   */
  moved(event, now) {
    const move = this.#moving ?? this.#take(this.press?.number ?? 0);
    if (!move || move.kept || !this.press) return;
    const [x, y] = toCloth(this.sheet.view, now);
    const { start } = this.press;
    const grain = GRAIN[this.store.units];
    const on = (/** @type {number} */ value) => (event.altKey ? value : Math.round(value / grain) * grain);
    move.at = [on(move.from[0] + x - start[0]), on(move.from[1] + y - start[1])];
  }

  up() {
    const { press } = this;
    this.press = null;
    if (this.move) this.#keep();
    else if (press) this.store.look(press.number);
  }

  letGo() {
    window.clearTimeout(this.settling);
    this.press = null;
    this.move = null;
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.key === "Escape" && this.move) {
      this.letGo();
      return true;
    }
    const number = numberOf(event.target);
    if (!number || !this.store.division) return false;
    if (event.key === "Enter" || event.key === " ") {
      this.store.look(number);
      return true;
    }
    const step = number === this.store.hooping ? nudge(event.key, event.shiftKey, this.store.units) : null;
    const move = step && (this.#moving ?? this.#take(number));
    if (!step || !move) return false;
    if (move.kept) return true;
    move.at = [move.at[0] + step[0], move.at[1] + step[1]];
    window.clearTimeout(this.settling);
    this.settling = window.setTimeout(() => this.#keep(), SETTLE);
    return true;
  }

  /** @param {number} number */
  #take(number) {
    const { division } = this.store;
    const hooping = division?.hoopings.find((h) => h.record.number === number);
    if (!division || !hooping) return null;
    if (number !== this.store.hooping) this.store.look(number);
    const from = hooping.record.centre;
    this.move = { hooping, from, at: from, before: division.revision, kept: false };
    return this.move;
  }

  async #keep() {
    const { move } = this;
    if (!move || move.kept) return;
    const [dx, dy] = [move.at[0] - move.from[0], move.at[1] - move.from[1]];
    if (!dx && !dy) this.letGo();
    else {
      move.kept = true;
      if (!(await this.lay(move.hooping, move.at))) this.letGo();
    }
    this.sheet.requestUpdate();
  }

  /** @param {import("./reckon/view.js").View} view */
  over(view) {
    const move = this.#moving;
    if (!move) return nothing;
    const { units, piece } = this.store;
    const hoop = piece?.hoops.find((h) => h.name === move.hooping.record.hoop);
    return [movedFrame(view, move.hooping, hoop, move.at), move.kept ? nothing : measures(view, move.at, units)];
  }

  slip() {
    const move = this.#moving;
    if (!move || move.kept) return nothing;
    const [x, y] = move.at.map((mm) => showLength(mm, this.store.units));
    return html`<p class="slip">The middle of hooping ${move.hooping.record.number}: ${x} right and ${y} down. Esc puts it back.</p>`;
  }
}

/** @param {EventTarget | null} target */
function numberOf(target) {
  return Number(/** @type {Element | null} */ (target)?.closest("[data-hooping]")?.getAttribute("data-hooping") ?? 0);
}
