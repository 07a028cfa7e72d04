import { html, nothing } from "./vendor/lit/index.js";
import { live } from "./vendor/lit/directives/live.js";
import { PlainElement } from "./plain-element.js";
import { AS_USUAL, choicesOf, inBlank, isChosen, isSpot, stepped, written } from "./reckon/ledger.js";
import { FINE, lengthNumber, unitWord } from "./reckon/length.js";
import { whole } from "./words.js";

/** @typedef {import("./types.js").Gap} Gap */
/** @typedef {{gap: Gap, way: string, text: string, whole: (value: unknown) => unknown}} Field one place to write in */

/** ms after the last arrow key before the value is kept. */
const SETTLE = 500;
/** What stands between the words of a gap's name. */
const SPELT = /[-_.]/g;

let made = 0;

/**
 * A blank in a sentence, filled in with the pen: Enter or leaving it keeps, Escape restores, arrows step. `keep` gives ""
 * or the sentence why the value cannot be, which then stands below while the value stays to be mended.
 */
export class FestoonBlank extends PlainElement {
  static properties = {
    gap: { attribute: false },
    spot: { attribute: false },
    units: {},
    told: {},
    tail: {},
    wrong: { state: true },
    draft: { state: true },
  };

  constructor() {
    super();
    /** @type {Gap} */
    this.gap = { gap: "", word: "", value: null, shown: "", kind: "words", choices: [], usual: false };
    /** @type {import("./types.js").Spot | null} where the thing stands that says no place of its own */
    this.spot = null;
    /** @type {import("./types.js").Units} */
    this.units = "mm";
    this.told = "";
    /** The stop or comma behind it, which stays on its line. */
    this.tail = "";
    /** @type {(word: string, value: unknown) => Promise<string>} not observed: a new one changes nothing to see */
    this.keep = async () => "";
    this.wrong = "";
    /** @type {{way: string, text: string, was: string} | null} what is written but not kept, and what stood there */
    this.draft = null;
    this.settling = 0;
    this.mark = `blank-${(made += 1)}`;
  }

  /** @param {Map<string, unknown>} changed */
  willUpdate(changed) {
    const before = /** @type {Gap | undefined} */ (changed.get("gap"));
    const other = before && (before.word !== this.gap.word || JSON.stringify(before.value) !== JSON.stringify(this.gap.value));
    if (other || (changed.has("told") && changed.get("told") !== undefined) || (changed.has("units") && before)) this.#restore();
  }

  render() {
    const { gap, units } = this;
    const spot = isSpot(gap.value) ? gap.value : this.spot;
    if (gap.kind === "place") {
      const [x, y] = spot ?? [null, null];
      return html`${this.#field(this.#half("to the right", x, (value) => [value, y ?? 0]), `${x === null ? "" : ` ${unitWord(units)}`} right`)}
        and ${this.#field(this.#half("down", y, (value) => [x ?? 0, value]), `${y === null ? "" : ` ${unitWord(units)}`} down${this.tail}`)}${this.#why()}`;
    }
    if (isChosen(gap)) return html`${this.#choice()}${this.#why()}`;
    const { text, after } = inBlank(gap, units);
    return html`${this.#field({ gap, way: "", text, whole: (value) => value }, `${after ? ` ${after}` : ""}${this.tail}`)}${this.#why()}`;
  }

  /**
   * One of the two numbers of a place.
   * @param {string} way
   * @param {number | null} value
   * @param {(value: unknown) => unknown} both
   * @returns {Field}
   */
  #half(way, value, both) {
    const gap = { ...this.gap, kind: /** @type {const} */ ("length"), value };
    return { gap, way, text: value === null ? "" : lengthNumber(value, this.units, FINE), whole: (one) => (one === null ? null : both(one)) };
  }

  /**
   * @param {Field} field
   * @param {string} after
   */
  #field(field, after) {
    const { gap, way, text } = field;
    const held = this.draft?.way === way ? this.draft.text : null;
    const bad = this.wrong !== "" && held !== null;
    return html`<span class="nu"><input class="n ${bad ? "bad" : ""}" size=${Math.max(3, (held ?? text).length)} inputmode=${gap.kind === "words" ? "text" : "decimal"}
      autocomplete="off" spellcheck="false" placeholder=${gap.usual ? AS_USUAL : nothing} aria-label=${this.#label(way)}
      aria-invalid=${bad ? "true" : "false"} aria-describedby=${bad ? this.mark : nothing} .value=${live(held ?? text)}
      @input=${(/** @type {Event} */ e) => this.#write(field, /** @type {HTMLInputElement} */ (e.target).value)}
      @keydown=${(/** @type {KeyboardEvent} */ e) => this.#key(e, field)} @blur=${() => this.#keep(field)}>${after}</span>`;
  }

  #choice() {
    const { gap } = this;
    return html`<span class="nu"><select class="n ${this.wrong ? "bad" : ""}" aria-label=${this.#label("")} aria-invalid=${this.wrong ? "true" : "false"}
      aria-describedby=${this.wrong ? this.mark : nothing} @change=${(/** @type {Event} */ e) => this.#chose(/** @type {HTMLSelectElement} */ (e.target).value)}>
      ${choicesOf(gap).map(({ value, told, chosen }) => html`<option value=${value} .selected=${live(this.draft ? this.draft.text === value : chosen)}>${whole(told)}</option>`)}</select>${this.tail}</span>`;
  }

  /** @param {string} way */
  #label(way) {
    const { gap, units } = this;
    const unit = gap.kind === "length" || gap.kind === "place" ? (units === "mm" ? "in millimetres" : "in inches") : gap.kind === "angle" ? "in degrees" : "";
    const named = gap.gap === "at" ? "place" : gap.gap.replace(SPELT, " ");
    return [this.told, way ? `${named} ${way}` : named, unit, gap.usual && !isChosen(gap) ? `empty: ${AS_USUAL}` : ""].filter(Boolean).join(", ");
  }

  /** What is wrong, below the line it stands in. */
  #why() {
    if (!this.wrong) return nothing;
    const was = this.draft?.was ?? "";
    return html`<span class="wrong" id=${this.mark} role="alert"><span class="wrong-mark" aria-hidden="true">✕</span><span>${whole(this.wrong)}</span>
      <button class="may" @click=${() => this.#restore()}>${was ? `Put ${whole(was)} back` : "Put back what was"}</button></span>`;
  }

  /**
   * @param {Field} field
   * @param {string} text
   */
  #write({ way, text: was }, text) {
    window.clearTimeout(this.settling);
    this.draft = { way, text, was };
    this.wrong = "";
  }

  #restore() {
    window.clearTimeout(this.settling);
    this.draft = null;
    this.wrong = "";
  }

  /**
   * @param {KeyboardEvent} event
   * @param {Field} field
   */
  #key(event, field) {
    event.stopPropagation();
    const input = /** @type {HTMLInputElement} */ (event.target);
    const way = event.key === "ArrowUp" ? 1 : event.key === "ArrowDown" ? -1 : 0;
    if (event.key === "Escape") this.#restore();
    else if (event.key === "Enter") void this.#keep(field);
    else if (way && field.gap.kind !== "words") {
      this.#write(field, stepped(field.gap.kind, input.value, this.units, /** @type {1 | -1} */ (way), event.shiftKey));
      this.settling = window.setTimeout(() => this.#keep(field), SETTLE);
    } else return;
    event.preventDefault();
  }

  /** @param {Field} field */
  async #keep(field) {
    window.clearTimeout(this.settling);
    const { draft } = this;
    if (!draft || draft.way !== field.way || this.wrong) return;
    if (draft.text.trim() === field.text) {
      this.#restore();
      return;
    }
    const answer = written(field.gap, draft.text, this.units);
    await this.#ask(draft, "sentence" in answer ? answer.sentence : null, "value" in answer ? field.whole(answer.value) : null);
  }

  /** @param {string} text */
  async #chose(text) {
    const answer = written(this.gap, text, this.units);
    this.draft = { way: "", text, was: choicesOf(this.gap).find((choice) => choice.chosen)?.told ?? "" };
    await this.#ask(this.draft, "sentence" in answer ? answer.sentence : null, "value" in answer ? answer.value : null);
  }

  /**
   * @param {{way: string, text: string, was: string}} draft
   * @param {string | null} wrong
   * @param {unknown} value
   */
  async #ask(draft, wrong, value) {
    const sentence = wrong ?? (await this.keep(this.gap.word, value));
    if (this.draft !== draft) return; // written anew meanwhile
    this.wrong = sentence;
    if (!sentence) this.draft = null;
  }
}
customElements.define("festoon-blank", FestoonBlank);
