/** A lens over the sheet: a round glass that shows what lies under it four times closer. */

import { html, nothing, svg } from "./vendor/lit/index.js";
import { PlainElement } from "./plain-element.js";
import { layersOn, layersThere, paintInto, tintFor } from "./proof/map.js";
import { statesOf } from "./reckon/carry.js";
import { movedOn, under, within } from "./reckon/lens.js";
import { ellipse, linePath } from "./reckon/shapes.js";
import { centredOn, toCloth, toScreen } from "./reckon/view.js";
import { screenRatio } from "./thread-plain.js";
import { threadOn } from "./thread.js";

/** @typedef {import("./types.js").Spot} Spot */

/** px that an arrow key moves the glass by, and with Shift. */
const STEP = 8;
const FAR = 48;
const ARROWS = /** @type {Record<string, Spot>} */ ({ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] });
/** Of the thread's own width that the glass reaches beyond its rim, mm. */
const RIM = 1;

/** It follows the mouse, is dragged by a finger, moved by the arrow keys, and put away by Escape. */
export class FestoonLens extends PlainElement {
  static properties = { sheet: { attribute: false }, view: { attribute: false }, dragged: { state: true } };

  constructor() {
    super();
    /** @type {import("./sheet.js").FestoonSheet} */
    this.sheet;
    /** @type {import("./reckon/view.js").View} of the sheet */
    this.view = { scale: 1, x: 0, y: 0 };
    /** @type {{id: number, at: Spot} | null} the finger that has it */
    this.dragged = null;
    /** @type {ReturnType<typeof threadOn> | null} */
    this.painter = null;
    this.shownBefore = false;
    this.moved = (/** @type {PointerEvent} */ event) => this.#followed(event);
    this.escaped = (/** @type {KeyboardEvent} */ event) => this.#escape(event);
    this.showing = () => this.#toFinding();
    this.changed = () => this.requestUpdate();
  }

  connectedCallback() {
    super.connectedCallback();
    window.addEventListener("pointermove", this.moved);
    window.addEventListener("keydown", this.escaped);
    this.sheet.store.addEventListener("show", this.showing);
    this.sheet.store.addEventListener("change", this.changed);
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    window.removeEventListener("pointermove", this.moved);
    window.removeEventListener("keydown", this.escaped);
    this.sheet.store.removeEventListener("show", this.showing);
    this.sheet.store.removeEventListener("change", this.changed);
  }

  get store() {
    return this.sheet.store;
  }

  render() {
    const { store, view } = this;
    const { lens, cloth } = store;
    if (!lens || !cloth) return nothing;
    const [x, y] = toScreen(view, lens);
    const seen = under(view, lens, this.#across);
    const place = `translate(${seen.x} ${seen.y}) scale(${seen.scale})`;
    const layers = layersThere(store, lens);
    const told = layers < 0.05 ? "bare cloth" : `${layers.toFixed(1)} ${layers >= 0.95 && layers < 1.05 ? "layer" : "layers"} of thread`;
    return html`<div class="lens" .style=${`left: ${x}px; top: ${y}px`}>
      <div class="glass" tabindex="0" role="application" aria-roledescription="lens" aria-label="Lens, four times closer. Arrow keys move it, Escape puts it away." aria-describedby="under-lens"
        @keydown=${this.#key} @pointerdown=${this.#taken} @pointerup=${this.#left} @pointercancel=${this.#left}>
        <svg class="cloth-under" aria-hidden="true"><rect class="cloth" x=${seen.x} y=${seen.y} width=${cloth.size[0] * seen.scale} height=${cloth.size[1] * seen.scale}></rect></svg>
        <canvas class="near-thread" aria-hidden="true" ?hidden=${store.seenAs === "thickness"}></canvas><canvas class="near-map" aria-hidden="true" ?hidden=${store.seenAs !== "thickness"}></canvas>
        <svg class="near-lines" aria-hidden="true"><g transform=${place}>${store.piece?.elements.filter((e) => e.panel === store.panel).map((e) => e.lines.map((line) => svg`<path class="line ${line.role}" d=${linePath(line.points, line.closed)}></path>`))}</g>
          ${this.#ovals(seen)}</svg></div>
      <p class="lens-told" id="under-lens" aria-live="polite">${told}</p></div>`;
  }

  /** How far hoopings may miss each other, as large as it is. @param {import("./reckon/view.js").View} seen */
  #ovals(seen) {
    return this.store.found?.meetings.filter((m) => m.panel === this.store.panel).map((m) => {
      const { long, short, turn } = ellipse(m.covariance);
      const [x, y] = toScreen(seen, m.at);
      return svg`<ellipse class="misfit" rx=${long * seen.scale} ry=${short * seen.scale} transform="translate(${x} ${y}) rotate(${turn})"></ellipse>`;
    });
  }

  updated() {
    const { store, view } = this;
    const glass = /** @type {HTMLElement | null} */ (this.querySelector(".glass"));
    if (glass && !this.shownBefore) this.#begin(glass);
    this.shownBefore = glass !== null;
    if (!glass || !store.lens) {
      this.painter = null;
      return;
    }
    const seen = under(view, store.lens, this.#across);
    if (store.seenAs === "thickness") this.#paintMap(glass, seen);
    else this.#paintThread(glass, seen, store.lens);
  }

  /** It is laid down where it can be seen, and has the focus. @param {HTMLElement} glass */
  #begin(glass) {
    const { sheet, store, view } = this;
    const at = store.lens && toScreen(view, store.lens);
    if (store.lens && at?.some((px, n) => px < 0 || px > sheet.box[n])) sheet.see(centredOn(store.lens, sheet.box, view.scale));
    glass.focus({ preventScroll: true });
  }

  /**
   * @param {HTMLElement} glass
   * @param {import("./reckon/view.js").View} seen
   */
  #paintMap(glass, seen) {
    const { found } = this.store;
    if (!found) return;
    const canvas = /** @type {HTMLCanvasElement} */ (glass.querySelector(".near-map"));
    paintInto(canvas, this.#across, this.#across, seen, layersOn(this.store, () => this.requestUpdate()), tintFor(found.levels));
  }

  /**
   * @param {HTMLElement} glass
   * @param {import("./reckon/view.js").View} seen
   * @param {Spot} lens
   */
  #paintThread(glass, seen, lens) {
    const { laid, piece, panel } = this.store;
    if (!laid || !piece) return;
    const ratio = screenRatio();
    const side = Math.round(this.#across * ratio);
    this.painter ??= threadOn(/** @type {HTMLCanvasElement} */ (glass.querySelector(".near-thread")));
    const near = within(laid, lens, this.#across / seen.scale / 2 + RIM);
    const states = statesOf(piece.parts, (part) => (part.panel === panel ? 1 : 0));
    this.painter.forget();
    this.painter.load(near);
    this.painter.begin(side, side, { scale: seen.scale * ratio, x: seen.x * ratio, y: seen.y * ratio }, states);
    this.painter.add(0, near.count);
  }

  /** px across the glass, as the style sheet has it. */
  get #across() {
    return Number.parseInt(getComputedStyle(this).getPropertyValue("--glass"), 10) || 220;
  }

  /** @param {Spot} at mm */
  #put(at) {
    const { cloth } = this.store;
    if (cloth) this.store.set({ lens: movedOn(at, [0, 0], cloth.size) });
  }

  /** @param {PointerEvent} event */
  #followed(event) {
    const { lens } = this.store;
    if (!lens) return;
    if (this.dragged?.id === event.pointerId) {
      const by = [event.clientX - this.dragged.at[0], event.clientY - this.dragged.at[1]];
      this.dragged = { id: event.pointerId, at: [event.clientX, event.clientY] };
      this.#put([lens[0] + by[0] / this.view.scale, lens[1] + by[1] / this.view.scale]);
    } else if (event.pointerType === "mouse" && !event.buttons && /** @type {Element} */ (event.target).closest(".tissue")) {
      const frame = /** @type {HTMLElement} */ (this.closest(".tissue")).getBoundingClientRect();
      this.#put(toCloth(this.view, [event.clientX - frame.left, event.clientY - frame.top]));
    }
  }

  /** A finger takes the glass; a mouse that presses moves the sheet below. @param {PointerEvent} event */
  #taken(event) {
    if (event.pointerType === "mouse") return;
    event.stopPropagation();
    /** @type {HTMLElement} */ (event.currentTarget).setPointerCapture(event.pointerId);
    this.dragged = { id: event.pointerId, at: [event.clientX, event.clientY] };
  }

  /** @param {PointerEvent} event */
  #left(event) {
    if (this.dragged?.id === event.pointerId) this.dragged = null;
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const way = ARROWS[event.key];
    const { lens } = this.store;
    if (!way || !lens || event.ctrlKey || event.metaKey || event.altKey) return;
    const step = (event.shiftKey ? FAR : STEP) / this.view.scale;
    this.#put([lens[0] + way[0] * step, lens[1] + way[1] * step]);
    event.preventDefault();
    event.stopPropagation();
  }

  /** @param {KeyboardEvent} event */
  #escape(event) {
    if (event.key !== "Escape" || event.defaultPrevented || !this.store.lens) return;
    if (/** @type {Element} */ (event.target).closest("input, textarea")) return;
    this.store.set({ lens: null });
    document.getElementById("lens-button")?.focus();
    event.preventDefault();
  }

  #toFinding() {
    const at = this.store.found?.findings[this.store.shown]?.where.at;
    if (this.store.lens && at) this.#put(at);
  }
}
customElements.define("festoon-lens", FestoonLens);
