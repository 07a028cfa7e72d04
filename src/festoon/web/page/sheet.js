import { html, svg, nothing } from "./vendor/lit/index.js";
import { PlainElement } from "./plain-element.js";
import { leaned, leaningLines, nudge, set, settled, standsAt, TURN, withinTurn } from "./reckon/edits.js";
import { showLength } from "./reckon/length.js";
import { linePath, middle, pathsOf } from "./reckon/shapes.js";
import { centredOn, panned, toCloth, toScreen, TRUE_SIZE, whole, zoomed } from "./reckon/view.js";
import { findings, frames, measures, rulers } from "./sheet-marks.js";
import { threadOn } from "./thread.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {{element: string, from: Spot, at: Spot, held: import("./reckon/edits.js").Held}} Move */

const MARGIN = 44;
const CLOSER = 1.4;
/** px that a pointer may wander before a press becomes a drag. */
const SLACK = 3;
/** ms after the last arrow key before the move is kept. */
const SETTLE = 500;
const CLOSE_LOOK = 8;

/** The sheet: cloth at true scale, thread upon it, and over both what the stage wants to show. */
export class FestoonSheet extends PlainElement {
  static properties = {
    piece: { attribute: false },
    laid: { attribute: false },
    panel: {},
    units: {},
    stage: {},
    chosen: {},
    hoopings: { attribute: false },
    hooping: { type: Number },
    proof: { attribute: false },
    shown: { type: Number },
    view: { state: true },
    move: { state: true },
  };

  constructor() {
    super();
    /** @type {import("./types.js").Piece | null} */
    this.piece = null;
    /** @type {import("./reckon/stitches.js").Laid | null} */
    this.laid = null;
    this.panel = "";
    /** @type {import("./types.js").Units} */
    this.units = "mm";
    this.stage = "lay-out";
    this.chosen = "";
    /** @type {import("./types.js").Hoopings | null} */
    this.hoopings = null;
    this.hooping = 0;
    /** @type {import("./types.js").Proof | null} */
    this.proof = null;
    this.shown = -1;
    /** @type {import("./reckon/view.js").View} */
    this.view = { scale: 1, x: 0, y: 0 };
    /** @type {Move | null} */
    this.move = null;
    /** @type {Spot} */
    this.box = [0, 0];
    this.fitted = true;
    /** @type {Map<number, Spot>} */
    this.pointers = new Map();
    /** @type {{start: Spot, element: string | null, part: string | null, dragged: boolean} | null} */
    this.press = null;
    this.settling = 0;
    this.drawing = 0;
    /** @type {ReturnType<typeof threadOn> | null} */
    this.thread = null;
  }

  firstUpdated() {
    const canvas = /** @type {HTMLCanvasElement} */ (this.querySelector("canvas"));
    this.thread = threadOn(canvas);
    const stage = /** @type {HTMLElement} */ (this.querySelector(".tissue"));
    stage.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    new ResizeObserver(() => this.#resized(stage, canvas)).observe(stage);
  }

  /** @param {Map<string, unknown>} changed */
  willUpdate(changed) {
    if (changed.has("piece")) this.move = null;
    if ((changed.has("panel") || changed.has("stage")) && this.box[0]) this.#fit();
    if (changed.has("shown") && this.shown >= 0) this.#showPlace();
  }

  /** @param {Map<string, unknown>} changed */
  updated(changed) {
    if (changed.has("laid") && this.laid) this.thread?.load(this.laid);
    cancelAnimationFrame(this.drawing);
    this.drawing = requestAnimationFrame(() => this.thread?.draw(this.view, this.#states()));
  }

  get cloth() {
    return this.piece?.panels.find((panel) => panel.name === this.panel) ?? null;
  }

  /** @returns {Part[]} */
  get parts() {
    return this.piece?.parts.filter((part) => part.panel === this.panel) ?? [];
  }

  /** @param {string} name */
  element(name) {
    return this.piece?.elements.find((element) => element.name === name) ?? null;
  }

  render() {
    const { piece, cloth, view } = this;
    return html`<div class="tissue ${this.move ? "moving" : ""}" tabindex="0" role="group"
        aria-label="The sheet. Arrow keys move it; plus and minus bring it closer or farther."
        @keydown=${this.#key} @pointerdown=${this.#down} @pointermove=${this.#moved} @pointerup=${this.#up} @pointercancel=${this.#up}>
        <svg class="under" aria-hidden="true">${cloth ? this.#cloth(cloth) : nothing}</svg>
        <canvas aria-hidden="true"></canvas>
        <svg class="over">${piece && cloth
          ? svg`${this.#map()}${this.#lines()}${this.#hits()}${this.#overlay(piece)}${rulers(view, cloth.size, this.box, this.units)}`
          : nothing}</svg>
        ${this.move ? this.#slip(this.move) : nothing}
      </div>
      <div class="below"><p>${this.#hint()}</p><div class="views">
        ${(piece?.panels.length ?? 0) > 1
          ? piece?.panels.map((p) => html`<button class="view" aria-pressed=${p.name === this.panel} @click=${() => this.tell("panel", p.name)}>${p.name}</button>`)
          : nothing}
        <button class="view" aria-pressed=${this.fitted} @click=${() => this.#fit()}>The whole piece</button>
        <button class="view" @click=${() => this.#zoom(CLOSER)}>Closer</button>
        <button class="view" @click=${() => this.#zoom(1 / CLOSER)}>Farther</button>
        <button class="view" @click=${() => this.#zoom(TRUE_SIZE / this.view.scale)}>True size</button>
      </div></div>`;
  }

  /** @param {import("./types.js").Panel} cloth */
  #cloth(cloth) {
    const { view } = this;
    const [w, h] = cloth.size;
    const [x, y] = toScreen(view, [0, 0]);
    const [x1, y1] = toScreen(view, cloth.size);
    const [cx, cy] = [(x + x1) / 2, (y + y1) / 2];
    const place = `translate(${view.x} ${view.y}) scale(${view.scale})`;
    return svg`<defs><pattern id="weave" width="3" height="3" patternUnits="userSpaceOnUse"><path class="weave" d="M0 .8h3M0 2.3h3M.8 0v3M2.3 0v3"></path></pattern></defs>
      <rect class="cloth" x=${x} y=${y} width=${x1 - x} height=${y1 - y}></rect>
      <rect fill="url(#weave)" x=${x} y=${y} width=${x1 - x} height=${y1 - y}></rect>
      <rect class="cut" x=${x} y=${y} width=${x1 - x} height=${y1 - y}></rect>
      ${cloth.seam ? svg`<g transform=${place}><rect class="seam" x=${cloth.seam} y=${cloth.seam} width=${Math.max(0, w - 2 * cloth.seam)} height=${Math.max(0, h - 2 * cloth.seam)}></rect></g>` : nothing}
      <path class="centre" d="M${cx} ${y}V${y1}M${x} ${cy}H${x1}"></path>
      <path class="notch" d="M${cx - 7} ${y}h14l-7 10zM${cx - 7} ${y1}h14l-7-10zM${x} ${cy - 7}v14l10-7zM${x1} ${cy - 7}v14l-10-7z"></path>
      ${Object.entries(cloth.lines).map(([name, points]) => svg`<g transform=${place}><path class="named" d=${linePath(points, false)}><title>${name}</title></path></g>`)}
      <text class="cloth-words" x=${x} y=${y1 + 24}>${cloth.name} · ${cloth.cloth || "cloth"} · ${showLength(w, this.units)} by ${showLength(h, this.units)}</text>
      <g transform="translate(1 1.6)">${(this.stage === "proof" ? [] : this.parts).map((part) => svg`<path class="cast" fill-rule="evenodd" transform=${this.#placed(part)} d=${pathsOf(part.outline).rings}></path>`)}</g>`;
  }

  #map() {
    if (this.stage !== "proof" || !this.proof) return nothing;
    return this.proof.thickness.filter((t) => t.panel === this.panel).map((t) => {
      const [x, y] = toScreen(this.view, t.origin);
      return svg`<clipPath id="sewn">${this.parts.map((part) => svg`<path clip-rule="evenodd" transform=${this.#placed(part)} d=${pathsOf(part.outline).rings}></path>`)}</clipPath>
        <image class="map" clip-path="url(#sewn)" href="${t.picture}&revision=${this.proof?.revision}" preserveAspectRatio="none" x=${x} y=${y} width=${t.size[0] * this.view.scale} height=${t.size[1] * this.view.scale}></image>`;
    });
  }

  #lines() {
    const place = `translate(${this.view.x} ${this.view.y}) scale(${this.view.scale})`;
    return this.piece?.elements.filter((e) => e.panel === this.panel).map((element) =>
      svg`<g transform=${place}>${element.lines.map((line) => svg`<path class="line ${line.role}" d=${linePath(line.points, line.closed)}></path>`)}</g>`);
  }

  /** The parts as things to choose: their outlines, with a hull about the chosen one. */
  #hits() {
    const live = this.stage === "lay-out";
    return this.parts.map((part) => {
      const chosen = live && part.name === this.chosen;
      const movable = standsAt(/** @type {import("./types.js").Element} */ (this.element(part.element))) !== null;
      const [w, h] = [part.bounds[2] - part.bounds[0], part.bounds[3] - part.bounds[1]].map((v) => showLength(v, this.units));
      return svg`<g class="part ${chosen ? "chosen" : ""} ${live && movable ? "movable" : ""}" data-part=${part.name}
          tabindex=${live ? 0 : -1} role="button" aria-pressed=${chosen} aria-label="${part.name}, ${w} by ${h}">
          <path class="reach" transform=${this.#placed(part)} d=${pathsOf(part.outline).rings}></path>
          ${live ? svg`<path class="hull" transform=${this.#placed(part)} d=${pathsOf(part.outline).hull}></path>` : nothing}</g>`;
    });
  }

  /** @param {import("./types.js").Piece} piece */
  #overlay(piece) {
    const { view } = this;
    if (this.stage === "hoopings" && this.hoopings) {
      const here = this.hoopings.hoopings.filter((h) => h.record.panel === this.panel);
      return frames(view, here, piece.hoops, this.hooping, (number) => this.tell("hooping", number));
    }
    if (this.stage === "proof" && this.proof) {
      return findings(view, this.proof, this.panel, this.shown, (index) => this.tell("finding", index));
    }
    if (this.stage !== "lay-out") return nothing;
    const part = piece.parts.find((p) => p.name === this.chosen && p.panel === this.panel);
    const at = this.move?.at ?? (part && standsAt(/** @type {import("./types.js").Element} */ (this.element(part.element))));
    return at ? measures(view, at, this.units) : nothing;
  }

  /** @param {Move} move */
  #slip({ from, at, held }) {
    const leans = [held.x && `in line with ${held.x}, left to right`, held.y && `level with ${held.y}`].filter(Boolean).join("; ");
    return html`<p class="slip">${showLength(at[0], this.units)} right, ${showLength(at[1], this.units)} down; moved by
      ${showLength(Math.hypot(at[0] - from[0], at[1] - from[1]), this.units)}${leans ? html`<br>${leans}` : nothing}</p>`;
  }

  #hint() {
    if (this.stage === "hoopings") return "Choose a number to see its hoop and its crosses.";
    if (this.stage === "proof") return this.proof && !this.proof.meetings.length ? "" : "Ovals: how far two hoopings may miss each other, 19 times in 20, drawn up to twelve times life.";
    if (this.stage !== "lay-out") return "";
    const far = this.units === "mm" ? "half a millimetre a press, 5 mm with Shift" : "0.02 inch a press, 0.2 with Shift";
    return this.chosen ? `Drag, or use the arrow keys: ${far}. R turns.` : "Choose a part by click or Tab. The wheel brings the cloth closer.";
  }

  /** @param {Part} part */
  #placed(part) {
    const { view, move } = this;
    const [dx, dy] = move && part.element === move.element ? [move.at[0] - move.from[0], move.at[1] - move.from[1]] : [0, 0];
    return `translate(${view.x + dx * view.scale} ${view.y + dy * view.scale}) scale(${view.scale})`;
  }

  #states() {
    const all = this.piece?.parts ?? [];
    const states = new Float32Array(4 * Math.max(1, all.length));
    const sewn = this.hoopings?.hoopings.find((h) => h.record.number === this.hooping)?.record.elements ?? [];
    all.forEach((part, i) => {
      const move = this.move?.element === part.element ? this.move : null;
      states[4 * i] = move ? move.at[0] - move.from[0] : 0;
      states[4 * i + 1] = move ? move.at[1] - move.from[1] : 0;
      states[4 * i + 2] = part.panel === this.panel ? this.#strength(part, sewn) : 0;
    });
    return states;
  }

  /**
   * @param {Part} part
   * @param {string[]} sewn
   */
  #strength(part, sewn) {
    if (this.stage === "proof") return this.proof?.thickness.length ? 0 : 0.6;
    if (this.stage === "hoopings" && sewn.length) return sewn.includes(part.name) ? 1 : 0.35;
    return 1;
  }

  /**
   * @param {HTMLElement} stage
   * @param {HTMLCanvasElement} canvas
   */
  #resized(stage, canvas) {
    const ratio = Math.min(2, window.devicePixelRatio || 1);
    this.box = [stage.clientWidth, stage.clientHeight];
    canvas.width = Math.round(this.box[0] * ratio);
    canvas.height = Math.round(this.box[1] * ratio);
    if (this.fitted) this.#fit();
    else this.requestUpdate();
  }

  #fit() {
    if (this.cloth && this.box[0]) this.view = whole(this.cloth.size, this.box, MARGIN);
    this.fitted = true;
    this.requestUpdate();
  }

  /** @param {number} factor */
  #zoom(factor) {
    this.fitted = false;
    const part = this.parts.find((p) => p.name === this.chosen);
    const px = part ? toScreen(this.view, middle(part.bounds)) : /** @type {Spot} */ ([this.box[0] / 2, this.box[1] / 2]);
    this.view = zoomed(this.view, factor, px);
  }

  #showPlace() {
    const where = this.proof?.findings[this.shown]?.where;
    if (!where?.at) return;
    this.fitted = false;
    this.view = centredOn(where.at, this.box, Math.max(this.view.scale, CLOSE_LOOK));
  }

  /** @param {WheelEvent} event */
  #wheel(event) {
    event.preventDefault();
    this.fitted = false;
    if (event.shiftKey) this.view = panned(this.view, -event.deltaX - event.deltaY, 0);
    else this.view = zoomed(this.view, Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0015)), this.#spot(event));
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
    if (event.button !== 0) return;
    this.pointers.set(event.pointerId, this.#spot(event));
    const target = /** @type {Element} */ (event.target);
    const part = this.stage === "lay-out" ? target.closest("[data-part]")?.getAttribute("data-part") ?? null : null;
    const element = part ? this.parts.find((p) => p.name === part)?.element ?? null : null;
    this.press = { start: this.#spot(event), element, part, dragged: false };
  }

  /** @param {PointerEvent} event */
  #moved(event) {
    const before = this.pointers.get(event.pointerId);
    if (!before || !this.press) return;
    const now = this.#spot(event);
    if (this.pointers.size === 2) this.#pinch(event.pointerId, before, now);
    else if (this.press.dragged || Math.hypot(now[0] - this.press.start[0], now[1] - this.press.start[1]) > SLACK) {
      if (!this.press.dragged) /** @type {HTMLElement} */ (event.currentTarget).setPointerCapture(event.pointerId);
      this.press.dragged = true;
      this.#drag(this.press, before, now, event.altKey);
    }
    this.pointers.set(event.pointerId, now);
  }

  /**
   * @param {number} moving
   * @param {Spot} before
   * @param {Spot} now
   */
  #pinch(moving, before, now) {
    const other = [...this.pointers].find(([id]) => id !== moving)?.[1] ?? now;
    const apart = (/** @type {Spot} */ p) => Math.max(1, Math.hypot(p[0] - other[0], p[1] - other[1]));
    this.fitted = false;
    this.view = zoomed(this.view, apart(now) / apart(before), other);
    if (this.press) this.press.dragged = true;
  }

  /**
   * @param {{start: Spot, element: string | null, part: string | null}} press
   * @param {Spot} before
   * @param {Spot} now
   * @param {boolean} free
   */
  #drag(press, before, now, free) {
    const element = press.element ? this.element(press.element) : null;
    const from = element && standsAt(element);
    if (!element || !from || !this.cloth) {
      this.fitted = false;
      this.view = panned(this.view, now[0] - before[0], now[1] - before[1]);
      return;
    }
    if (press.part !== this.chosen) this.tell("choose", press.part);
    const [a, b] = [toCloth(this.view, press.start), toCloth(this.view, now)];
    const at = settled([from[0] + b[0] - a[0], from[1] + b[1] - a[1]], this.units);
    const lines = leaningLines(this.cloth.size, this.#others(element.name));
    const lean = free ? { at, held: { x: null, y: null } } : leaned(at, lines);
    this.move = { element: element.name, from, ...lean };
  }

  /** @param {string} name */
  #others(name) {
    return (this.piece?.elements ?? []).flatMap((element) => {
      const at = element.name !== name && element.panel === this.panel ? standsAt(element) : null;
      return at ? [{ name: element.name, at }] : [];
    });
  }

  /** @param {PointerEvent} event */
  #up(event) {
    this.pointers.delete(event.pointerId);
    const press = this.press;
    if (this.pointers.size || !press) return;
    this.press = null;
    if (event.type === "pointercancel") this.move = null;
    else if (this.move && press.dragged) this.#keep();
    else if (!press.dragged && this.stage === "lay-out") this.tell("choose", press.part ?? "");
  }

  #keep() {
    const move = this.move;
    window.clearTimeout(this.settling);
    if (!move) return;
    if (move.at[0] === move.from[0] && move.at[1] === move.from[1]) this.move = null;
    else this.tell("change", { label: `moving ${move.element}`, edits: [set(move.element, "at", move.at)] });
  }

  /** The sheet goes back to the last good state, after a change was refused. */
  letGo() {
    this.move = null;
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const name = /** @type {Element} */ (event.target).closest("[data-part]")?.getAttribute("data-part");
    const step = nudge(event.key, event.shiftKey, this.units);
    if (name && (event.key === "Enter" || event.key === " ")) this.tell("choose", name);
    else if (event.key === "Escape" && this.move) this.#restore();
    else if (event.key === "Escape") this.tell("choose", "");
    else if (event.key === "+" || event.key === "=") this.#zoom(CLOSER);
    else if (event.key === "-") this.#zoom(1 / CLOSER);
    else if (event.key === "0") this.#fit();
    else if (step && name && name === this.chosen) this.#step(name, step);
    else if (step) this.#slide(step);
    else if (event.key.toLowerCase() === "r" && name && name === this.chosen) this.#turn(name, event.shiftKey ? -TURN : TURN);
    else return;
    event.preventDefault();
  }

  #restore() {
    window.clearTimeout(this.settling);
    this.press = null;
    this.move = null;
  }

  /** @param {Spot} step */
  #slide(step) {
    this.fitted = false;
    this.view = panned(this.view, -40 * Math.sign(step[0]), -40 * Math.sign(step[1]));
  }

  /**
   * @param {string} name
   * @param {Spot} step
   */
  #step(name, step) {
    const element = this.element(this.parts.find((p) => p.name === name)?.element ?? "");
    const from = element && standsAt(element);
    if (!element || !from) return;
    const at = this.move?.at ?? from;
    const moved = /** @type {Spot} */ ([at[0] + step[0], at[1] + step[1]].map((v) => Math.round(v * 1000) / 1000));
    this.move = { element: element.name, from, at: moved, held: { x: null, y: null } };
    window.clearTimeout(this.settling);
    this.settling = window.setTimeout(() => this.#keep(), SETTLE);
  }

  /**
   * @param {string} name
   * @param {number} by
   */
  #turn(name, by) {
    const element = this.element(this.parts.find((p) => p.name === name)?.element ?? "");
    const gap = element?.sentences.flatMap((s) => s.gaps).find((g) => g.word === "turn");
    if (!element || typeof gap?.value !== "number") return;
    this.tell("change", { label: `turning ${element.name}`, edits: [set(element.name, "turn", withinTurn(gap.value + by))] });
  }
}
customElements.define("festoon-sheet", FestoonSheet);
