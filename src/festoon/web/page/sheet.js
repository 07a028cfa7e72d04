import { html, nothing, render, svg } from "./vendor/lit/index.js";
import { takeSketchOver } from "./first-sketch.js";
import { keysSheet, showKeys } from "./keys.js";
import { PlainElement } from "./plain-element.js";
import { matrixOf, statesOf, written } from "./reckon/carry.js";
import { distance } from "./reckon/handles.js";
import { middle } from "./reckon/shapes.js";
import { centredOn, MARGIN, panned, pinched, toScreen, TRUE_SIZE, wheeled, whole, zoomed } from "./reckon/view.js";
import { areasOf, casts, clothOn, hits, linesOf, onSheet } from "./sheet-cloth.js";
import { rulers } from "./sheet-marks.js";
import { ThreadLayers } from "./thread-layers.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./types.js").Part} Part */

const CLOSER = 1.4;
/** px that a pointer may wander before a press becomes a drag. */
const SLACK = 3;
/** px that an arrow key moves the sheet by. */
const SLIDE = 40;
const CLOSE_LOOK = 8;
/** Panels that have a button each below the sheet. */
const FEW = 2;
/** ms after a step of a trackpad within which the next is taken for the same gesture. */
const GESTURE = 300;

/** The sheet: cloth at true scale, thread upon it, and over both what the stage wants to show. */
export class FestoonSheet extends PlainElement {
  static properties = { store: { attribute: false }, stage: { attribute: false }, view: { state: true } };

  constructor() {
    super();
    /** @type {import("./store.js").Store} */
    this.store;
    /** @type {import("./stages/stage.js").Stage} */
    this.stage;
    /** @type {import("./reckon/view.js").View} */
    this.view = { scale: 1, x: 0, y: 0 };
    /** @type {import("./stages/stage.js").Hand | null} */
    this.hand = null;
    /** @type {Spot} the window's size, px */
    this.box = [0, 0];
    this.fitted = true;
    /** @type {Map<number, Spot>} */
    this.pointers = new Map();
    /** @type {{start: Spot, dragged: boolean, held: boolean} | null} `held`: the stage's hand has it */
    this.press = null;
    this.slidAt = -GESTURE;
    /** @type {ThreadLayers | null} */
    this.thread = null;
    /** @type {unknown} the thread that the drawing has */
    this.loaded = null;
    /** @type {unknown[]} what the parts were last drawn from */
    this.drawn = [];
    /** @type {Map<string, SVGElement[]>} what is drawn of each part */
    this.marks = new Map();
    /** @type {Set<string>} the parts that are drawn elsewhere than where they lie */
    this.away = new Set();
    this.seen = "";
  }

  firstUpdated() {
    this.thread = new ThreadLayers([...this.querySelectorAll(/** @type {"canvas"} */ ("canvas.thread"))]);
    const tissue = /** @type {HTMLElement} */ (this.querySelector(".tissue"));
    tissue.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    new ResizeObserver(() => this.#resized(tissue)).observe(tissue);
    window.addEventListener("keydown", (event) => this.#escape(event), { capture: true });
    this.store.addEventListener("change", () => this.requestUpdate());
    this.store.addEventListener("show", () => this.#showPlace());
  }

  /** @param {Map<string, unknown>} changed */
  willUpdate(changed) {
    if (changed.has("stage")) this.hand = this.stage.hand?.(this) ?? null;
    const seen = `${this.stage.id} ${this.store.panel}`;
    if (this.seen !== seen && this.box[0]) this.fit();
    this.seen = seen;
  }

  render() {
    const { store, stage, view, hand } = this;
    const { piece, cloth } = store;
    const place = onSheet(view);
    return html`<div class="tissue ${hand?.busy ? "moving" : ""}" tabindex="0" role="group"
        aria-label="The sheet. Arrow keys move it; plus and minus bring it closer or farther."
        @keydown=${this.#key} @pointerdown=${this.#down} @pointermove=${this.#moved} @pointerup=${this.#up} @pointercancel=${this.#up}>
        <svg class="under" aria-hidden="true">${cloth ? clothOn(view, cloth, store.units) : nothing}
          <g transform="translate(1 1.6)" ?hidden=${Boolean(stage.between)}><g class="casts" transform=${place}></g></g><g class="areas" transform=${place}></g></svg>
        <canvas class="thread" aria-hidden="true" hidden></canvas><canvas class="thread" aria-hidden="true" hidden></canvas><canvas class="thread" aria-hidden="true" hidden></canvas>
        ${stage.between?.(this)}
        <svg class="over"><g class="lines" transform=${place}></g><g class="hits" transform=${place}></g>
          ${piece && cloth ? svg`${stage.over?.(store, view)}${hand?.over(view)}${rulers(view, cloth.size, this.box, store.units)}` : nothing}</svg>
        ${hand?.slip()}${stage.aside?.(this)}
      </div>
      <div class="below"><p>${stage.hint?.(store)}</p><div class="views">
        ${piece && piece.panels.length > 1 ? this.#panels(piece.panels.map(({ name }) => name)) : nothing}
        <button class="view" aria-pressed=${this.fitted} @click=${() => this.fit()}>The whole piece</button>
        <button class="view" @click=${() => this.zoom(CLOSER)}>Closer</button>
        <button class="view" @click=${() => this.zoom(1 / CLOSER)}>Farther</button>
        <button class="view" @click=${() => this.zoom(TRUE_SIZE / view.scale)}>True size</button>
        ${hand?.carried ? html`<button class="view" @click=${() => showKeys(this)}>Keys</button>` : nothing}
      </div></div>${hand?.carried ? keysSheet(store.units) : nothing}`;
  }

  /** Which panel is shown: a button for each of a few, a list of many. @param {string[]} names */
  #panels(names) {
    const { store } = this;
    const show = (/** @type {string} */ panel) => store.set({ panel });
    if (names.length <= FEW) return names.map((name) => html`<button class="view" aria-pressed=${name === store.panel} @click=${() => show(name)}>${name}</button>`);
    return html`<select class="view" aria-label="Panel" @change=${(/** @type {Event} */ event) => show(/** @type {HTMLSelectElement} */ (event.target).value)}>
      ${names.map((name) => html`<option ?selected=${name === store.panel}>${name}</option>`)}</select>`;
  }

  updated() {
    const { store, stage, hand } = this;
    const { laid, piece } = store;
    if (laid && laid !== this.loaded) this.thread?.load(laid);
    this.loaded = laid;
    this.#drawParts();
    const carried = (/** @type {Part} */ part) => hand?.carried?.(part) ?? null;
    this.#carry(carried);
    const strength = (/** @type {Part} */ part) => (part.panel === store.panel ? stage.strength?.(store, part) ?? 1 : 0);
    if (piece && (this.box[0] || this.hidden)) takeSketchOver(/** @type {Element} */ (this.querySelector(".under")), this.view);
    if (piece) this.thread?.show(piece.parts, statesOf(piece.parts, strength), carried, this.view, this.box);
  }

  /** Draws the parts anew where something about them has changed: not for every step of a drag. */
  #drawParts() {
    const { store, hand } = this;
    const from = [store.piece, store.panel, store.chosen, store.units, hand];
    if (from.every((value, n) => value === this.drawn[n])) return;
    this.drawn = from;
    const elements = store.piece?.elements.filter((e) => e.panel === store.panel) ?? [];
    const inside = (/** @type {string} */ name) => /** @type {SVGGElement & HTMLElement} */ (this.querySelector(`.${name}`));
    render(casts(store.parts), inside("casts"));
    render(areasOf(elements), inside("areas"));
    render(linesOf(elements), inside("lines"));
    render(hits(hand?.carried ? store.parts : [], store.chosen, store.units), inside("hits"));
    this.marks = new Map(store.parts.map((part) => [part.name, []]));
    for (const mark of this.querySelectorAll("[data-of]")) {
      mark.removeAttribute("transform");
      this.marks.get(mark.getAttribute("data-of") ?? "")?.push(/** @type {SVGElement} */ (mark));
    }
    this.away.clear();
  }

  /** Moves what is drawn of the parts that the hand has. @param {(part: Part) => import("./reckon/carry.js").Carry | null} carried */
  #carry(carried) {
    for (const part of this.store.parts) {
      const carry = carried(part);
      if (!carry && !this.away.has(part.name)) continue;
      for (const mark of this.marks.get(part.name) ?? []) {
        if (carry) mark.setAttribute("transform", written(matrixOf(carry)));
        else mark.removeAttribute("transform");
      }
      if (carry) this.away.add(part.name);
      else this.away.delete(part.name);
    }
  }

  /** @param {HTMLElement} tissue */
  #resized(tissue) {
    if (!tissue.clientWidth) return; // put away while a stage does without it
    this.box = [tissue.clientWidth, tissue.clientHeight];
    if (this.fitted) this.fit();
    else this.requestUpdate();
  }

  /** Shows the whole piece. */
  fit() {
    const { cloth } = this.store;
    if (cloth && this.box[0]) this.view = whole(cloth.size, this.box, MARGIN);
    this.fitted = true;
    this.requestUpdate();
  }

  /** Closer or farther, about the chosen part or the middle. @param {number} factor */
  zoom(factor) {
    const part = this.store.chosenParts.at(-1);
    const px = part ? toScreen(this.view, middle(part.bounds)) : /** @type {Spot} */ ([this.box[0] / 2, this.box[1] / 2]);
    this.see(zoomed(this.view, factor, px));
  }

  /** @param {import("./reckon/view.js").View} view */
  see(view) {
    this.fitted = false;
    this.view = view;
  }

  async #showPlace() {
    await this.updateComplete;
    const where = this.store.found?.findings[this.store.shown]?.where;
    if (where?.at) this.see(centredOn(where.at, this.box, Math.max(this.view.scale, CLOSE_LOOK)));
  }

  /** @param {WheelEvent} event */
  #wheel(event) {
    event.preventDefault();
    const { view, slid } = wheeled(this.view, event, this.#spot(event), event.timeStamp - this.slidAt < GESTURE);
    if (slid) this.slidAt = event.timeStamp;
    this.see(view);
  }

  /**
   * @param {MouseEvent} event
   * @returns {Spot}
   */
  #spot(event) {
    const frame = /** @type {HTMLElement} */ (this.querySelector(".tissue")).getBoundingClientRect();
    return [event.clientX - frame.left, event.clientY - frame.top];
  }

  /** @param {PointerEvent} event */
  #down(event) {
    if (event.button !== 0 || /** @type {Element} */ (event.target).closest("button")) return;
    const at = this.#spot(event);
    this.pointers.set(event.pointerId, at);
    if (this.pointers.size > 1) {
      if (this.press?.held) this.hand?.letGo();
      this.press = { start: at, dragged: true, held: false };
    } else this.press = { start: at, dragged: false, held: this.hand?.down(event, at) ?? false };
    this.requestUpdate();
  }

  /** @param {PointerEvent} event */
  #moved(event) {
    const before = this.pointers.get(event.pointerId);
    const { press } = this;
    if (!before || !press) return;
    const now = this.#spot(event);
    if (this.pointers.size > 1) this.#pinch(event.pointerId, before, now);
    else if (press.dragged || distance(now, press.start) > SLACK) {
      if (!press.dragged) /** @type {HTMLElement} */ (event.currentTarget).setPointerCapture(event.pointerId);
      press.dragged = true;
      if (press.held) this.hand?.moved(event, now);
      else this.see(panned(this.view, now[0] - before[0], now[1] - before[1]));
    }
    this.pointers.set(event.pointerId, now);
    this.requestUpdate();
  }

  /**
   * @param {number} moving
   * @param {Spot} before
   * @param {Spot} now
   */
  #pinch(moving, before, now) {
    const other = [...this.pointers].find(([id]) => id !== moving)?.[1] ?? now;
    this.see(pinched(this.view, [before, other], [now, other]));
  }

  /** @param {PointerEvent} event */
  #up(event) {
    const known = this.pointers.delete(event.pointerId);
    const { press } = this;
    if (!known || this.pointers.size || !press) return;
    this.press = null;
    if (event.type === "pointercancel") this.hand?.letGo();
    else if (press.held) this.hand?.up(event, this.#spot(event));
    else if (!press.dragged && this.hand) this.store.choose([]);
    this.requestUpdate();
  }

  /** What is being dragged is put back by Escape wherever the focus is. @param {KeyboardEvent} event */
  #escape(event) {
    if (event.key !== "Escape" || !this.press?.held) return;
    this.press = null;
    this.hand?.letGo();
    event.stopPropagation();
    event.preventDefault();
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || /** @type {Element} */ (event.target).closest("button")) return;
    if (!this.hand?.key(event) && !this.#viewKey(event.key)) return;
    event.preventDefault();
    this.requestUpdate();
  }

  /** @param {string} key */
  #viewKey(key) {
    const slide = { ArrowLeft: [SLIDE, 0], ArrowRight: [-SLIDE, 0], ArrowUp: [0, SLIDE], ArrowDown: [0, -SLIDE] }[key];
    if (slide) this.see(panned(this.view, slide[0], slide[1]));
    else if (key === "+" || key === "=") this.zoom(CLOSER);
    else if (key === "-") this.zoom(1 / CLOSER);
    else if (key === "0") this.fit();
    else return false;
    return true;
  }
}
customElements.define("festoon-sheet", FestoonSheet);
