/** The hand on the sheet in laying out: chooses, drags, turns, bends and points out, by pointer, finger or keys. */

import { html, nothing, svg } from "./vendor/lit/index.js";
import { copied, mirrored, takenOff, turned } from "./deeds.js";
import { BoxGrip } from "./grips/box.js";
import { HandleGrip } from "./grips/handle.js";
import { MoveGrip } from "./grips/move.js";
import { TurnGrip } from "./grips/turn.js";
import { handlesOf, measures, setOut } from "./hand-marks.js";
import { pickable, pickByKey, pickPress } from "./hand-pick.js";
import { showKeys } from "./keys.js";
import { wanted } from "./picking.js";
import { toggled } from "./reckon/choice.js";
import { nudge, standsAt, TURN } from "./reckon/edits.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("./grips/grip.js").Grip} Grip */
/** @typedef {{take: () => Grip | null, click: () => void}} Press what it becomes when dragged, and when let go at once */

/** ms after the last key before what it did is kept. */
const SETTLE = 500;
/** ms that a finger rests on a part to choose one more. */
const LONG = 500;

/** @typedef {import("./stages/stage.js").Hand} Holding */
/** @implements {Holding} */
export class Hand {
  /** @param {import("./sheet.js").FestoonSheet} sheet */
  constructor(sheet) {
    this.sheet = sheet;
    this.store = sheet.store;
    /** @type {Grip | null} */
    this.grip = null;
    /** The piece that the grip is of: it holds for no other. */
    this.revision = "";
    /** @type {Press | null} */
    this.press = null;
    /** @type {Promise<void> | null} */
    this.keeping = null;
    this.settling = 0;
    this.resting = 0;
  }

  get busy() {
    return this.#held !== null;
  }

  /** What it has hold of, as long as the piece is the same. */
  get #held() {
    return this.revision === this.store.piece?.revision ? this.grip : null;
  }

  /**
   * @param {PointerEvent} event
   * @param {Spot} at
   */
  down(event, at) {
    if (this.grip) void this.#keep();
    this.press = this.#pressOn(event, at);
    return this.press !== null;
  }

  /**
   * @param {PointerEvent} event
   * @param {Spot} at
   * @returns {Press | null}
   */
  #pressOn(event, at) {
    const { store, sheet } = this;
    const part = this.#partOf(event.target);
    if (store.picking) return pickPress(sheet, event.target, at, part);
    const handle = this.#handleOf(event.target, at);
    if (handle) return { take: handle, click: () => undefined };
    if (part) return this.#pressOnPart(event, at, part);
    return event.shiftKey ? { take: () => new BoxGrip(sheet, at), click: () => undefined } : null;
  }

  /**
   * @param {PointerEvent} event
   * @param {Spot} at
   * @param {Part} part
   * @returns {Press}
   */
  #pressOnPart(event, at, part) {
    const { store } = this;
    const more = event.shiftKey;
    if (event.pointerType === "touch") {
      this.resting = window.setTimeout(() => {
        if (!this.press || this.grip) return;
        store.choose(toggled(store.chosen, part.name));
        this.press.click = () => undefined;
      }, LONG);
    }
    return {
      click: () => store.choose(more ? toggled(store.chosen, part.name) : [part.name]),
      take: () => {
        if (!store.chosen.includes(part.name)) store.choose(more ? [...store.chosen, part.name] : [part.name]);
        return this.#moving(part, at);
      },
    };
  }

  /**
   * A move of all that is chosen and stands at a place, the part's own first.
   * @param {Part} part
   * @param {Spot} at px
   */
  #moving(part, at) {
    const chosen = this.store.chosenElements.filter(standsAt);
    const own = chosen.filter((element) => element.name === part.element);
    const all = [...own, ...chosen.filter((element) => element.name !== part.element)];
    if (all.length) return new MoveGrip(this.sheet, all, at);
    this.store.say(`${part.name} has no place of its own: it goes where what it leans on goes.`);
    return null;
  }

  /**
   * What takes hold of the handle under a pointer or with the focus; null where there is none.
   * @param {EventTarget | null} target
   * @param {Spot} at px
   * @returns {(() => Grip) | null}
   */
  #handleOf(target, at) {
    const { store, sheet } = this;
    const mark = /** @type {globalThis.Element} */ (target).closest("[data-handle]");
    const element = store.element(mark?.getAttribute("data-element") ?? "");
    const part = store.chosenParts.filter((p) => p.element === element?.name).at(-1);
    if (!mark || !element || !part) return null;
    const name = mark.getAttribute("data-handle");
    if (name === "turn") return () => new TurnGrip(sheet, element, part, at);
    const handle = element.handles.find((h) => h.name === name);
    if (!handle) return null;
    return () => (handle.word === "at" ? new MoveGrip(sheet, [element], at) : new HandleGrip(sheet, element, handle, at));
  }

  /**
   * @param {PointerEvent} event
   * @param {Spot} now
   */
  moved(event, now) {
    window.clearTimeout(this.resting);
    if (this.keeping) return;
    this.grip ?? this.#take(this.press?.take() ?? null);
    this.grip?.moved(now, event.altKey);
  }

  /** @param {Grip | null} grip */
  #take(grip) {
    this.grip = grip;
    this.revision = this.store.piece?.revision ?? "";
    return grip;
  }

  /** @param {PointerEvent} event */
  up(event) {
    const { press, grip } = this;
    window.clearTimeout(this.resting);
    this.press = null;
    if (!grip) press?.click();
    else if (grip.dropped) {
      grip.dropped(this.#partOf(document.elementFromPoint(event.clientX, event.clientY)));
      this.letGo();
      if (this.store.chosen.length) void this.#follow(Promise.resolve());
    } else void this.#keep();
  }

  letGo() {
    window.clearTimeout(this.settling);
    window.clearTimeout(this.resting);
    this.press = null;
    this.grip = null;
    this.sheet.requestUpdate();
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    const { store } = this;
    const target = /** @type {globalThis.Element} */ (event.target);
    const part = this.#partOf(target);
    const step = nudge(event.key, event.shiftKey, store.units);
    const enter = event.key === "Enter" || event.key === " ";
    if (event.key === "?") showKeys(this.sheet);
    else if (event.key === "Escape") this.#escape();
    else if (store.picking) return enter && pickByKey(this.sheet, target, part);
    else if (part && enter) store.choose(event.shiftKey ? toggled(store.chosen, part.name) : [part.name]);
    else if (step && target.closest("[data-handle]")) this.#stepHandle(target, step, event.shiftKey);
    else if (!part || !store.chosen.includes(part.name)) return false;
    else if (step) return this.#stepPart(part, step);
    else return this.#deed(event);
    return true;
  }

  #escape() {
    if (this.grip) this.letGo();
    else if (this.store.picking) this.store.set({ picking: null });
    else this.store.choose([]);
  }

  /** What a letter does to what is chosen. @param {KeyboardEvent} event */
  #deed(event) {
    const { store } = this;
    const each = (/** @type {(element: import("./types.js").Element) => Promise<void>} */ deed) =>
      void this.#follow(store.chosenElements.reduce((before, element) => before.then(() => deed(element)), Promise.resolve()));
    const key = event.key.toLowerCase();
    if (key === "r") each((element) => turned(store, element, event.shiftKey ? -TURN : TURN));
    else if (key === "m") each((element) => mirrored(store, element));
    else if (key === "d") each((element) => copied(store, element));
    else if (key === "delete" || key === "backspace") void this.#follow(takenOff(store, store.chosenElements));
    else return false;
    return true;
  }

  /** The focus goes with what is chosen once that is done, so that the next key finds it. @param {Promise<void>} deed */
  async #follow(deed) {
    await deed;
    await this.sheet.updateComplete;
    const name = this.store.chosen.at(-1);
    const marks = /** @type {SVGGElement[]} */ ([...this.sheet.querySelectorAll("[data-part]")]);
    const mark = marks.find((one) => one.getAttribute("data-part") === name);
    (mark ?? /** @type {HTMLElement} */ (this.sheet.querySelector(".tissue"))).focus();
  }

  /**
   * @param {Part} part
   * @param {Spot} step
   * @returns {boolean}
   */
  #stepPart(part, step) {
    return this.#stepping(() => (this.grip instanceof MoveGrip ? this.grip : this.#take(this.#moving(part, [0, 0]))), (grip) => grip.step?.(step, false));
  }

  /**
   * @param {globalThis.Element} target
   * @param {Spot} step
   * @param {boolean} far
   */
  #stepHandle(target, step, far) {
    const same = this.grip && !(this.grip instanceof MoveGrip);
    this.#stepping(() => (same && this.grip) || this.#take(this.#handleOf(target, [0, 0])?.() ?? null), (grip) => grip.step?.(step, far));
  }

  /**
   * A step by a key: it is kept a while after the last; one that comes while that is being done waits for it.
   * @param {() => Grip | null} grip
   * @param {(grip: Grip) => void} step
   * @returns {boolean}
   */
  #stepping(grip, step) {
    if (this.keeping) {
      void this.keeping.then(() => this.#stepping(grip, step));
      return true;
    }
    const held = grip();
    if (!held) return false;
    step(held);
    window.clearTimeout(this.settling);
    this.settling = window.setTimeout(() => this.#keep(), SETTLE);
    this.sheet.requestUpdate();
    return true;
  }

  /** Makes the change that the grip comes to. */
  #keep() {
    window.clearTimeout(this.settling);
    this.keeping ??= this.#change(this.grip).finally(() => {
      this.keeping = null;
    });
  }

  /** @param {Grip | null} grip */
  async #change(grip) {
    const change = grip?.change();
    if (change) await this.store.change(change.label, change.edits);
    if (this.grip === grip) this.letGo();
  }

  /** @param {import("./reckon/view.js").View} view */
  over(view) {
    const { store, sheet } = this;
    const held = this.#held;
    if (store.picking) return svg`${pickable(store, view)}${held?.over(view)}`;
    const part = store.chosenParts.at(-1);
    const element = part && store.element(part.element);
    const at = element && !held ? standsAt(element) : null;
    const shift = (part && held?.carried?.(part)?.shift) ?? /** @type {Spot} */ ([0, 0]);
    const siblings = store.parts.filter((p) => p.element === element?.name);
    return svg`${held?.over(view)}${at ? measures(view, at, store.units) : nothing}
      ${element ? setOut(view, element, siblings, shift) : nothing}
      ${element ? handlesOf(view, sheet.box, element, part, store.units, held, siblings.map((p) => p.name)) : nothing}`;
  }

  slip() {
    const next = wanted(this.store.picking);
    const said = this.#held?.slip() ?? nothing;
    if (said === nothing && next) return html`<p class="slip">${this.store.picking?.told}: ${next.told}</p>`;
    return said === nothing ? nothing : html`<p class="slip">${said}</p>`;
  }

  /** @param {Part} part */
  carried(part) {
    return this.#held?.carried?.(part) ?? null;
  }

  /** @param {EventTarget | null} target */
  #partOf(target) {
    const name = /** @type {globalThis.Element | null} */ (target)?.closest("[data-part]")?.getAttribute("data-part");
    return this.store.parts.find((part) => part.name === name) ?? null;
  }
}
