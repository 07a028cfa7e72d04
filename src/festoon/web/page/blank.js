import { html, nothing } from "./vendor/lit/index.js";
import { live } from "./vendor/lit/directives/live.js";
import { PlainElement } from "./plain-element.js";
import { inBlank, isSpot, kindOf, stepped, written } from "./reckon/ledger.js";
import { lengthNumber, unitWord } from "./reckon/length.js";

/** A blank in a sentence, filled in with the pen: Enter or leaving it keeps, Escape restores, arrows step. */
export class FestoonBlank extends PlainElement {
  static properties = {
    gap: { attribute: false },
    spot: { attribute: false },
    units: {},
    told: {},
    wrong: { state: true },
    typed: { state: true },
  };

  constructor() {
    super();
    /** @type {import("./types.js").Gap} */
    this.gap = { gap: "", word: "", value: null, shown: "" };
    /** @type {import("./types.js").Spot | null} */
    this.spot = null;
    /** @type {import("./types.js").Units} */
    this.units = "mm";
    this.told = "";
    this.wrong = "";
    /** What was typed and could not be, and in which of the blanks. */
    this.typed = { way: "", text: "" };
  }

  render() {
    const kind = kindOf(this.gap);
    const spot = isSpot(this.gap.value) ? this.gap.value : this.spot;
    if (kind === "place" && spot) {
      return html`<span class="nu">${this.#input("length", lengthNumber(spot[0], this.units), "to the right", (x) => [x, spot[1]])} ${unitWord(this.units)} right</span>
        and <span class="nu">${this.#input("length", lengthNumber(spot[1], this.units), "down", (y) => [spot[0], y])} ${unitWord(this.units)} down</span>${this.#why()}`;
    }
    const { text, after } = inBlank(this.gap, this.units);
    return html`<span class="nu">${this.#input(kind, text, "", (value) => value)}${after ? ` ${after}` : nothing}</span>${this.#why()}`;
  }

  /**
   * @param {import("./reckon/ledger.js").Kind} kind
   * @param {string} text
   * @param {string} way
   * @param {(value: unknown) => unknown} whole
   */
  #input(kind, text, way, whole) {
    const label = `${this.told}, ${this.gap.gap}${way ? ` ${way}` : ""}${kind === "length" ? `, in ${this.units === "mm" ? "millimetres" : "inches"}` : ""}`;
    const bad = this.wrong !== "" && this.typed.way === way;
    return html`<input class="n ${bad ? "bad" : ""}" size=${Math.max(3, text.length)} inputmode=${kind === "words" ? "text" : "decimal"}
      autocomplete="off" spellcheck="false" aria-label=${label} aria-invalid=${bad ? "true" : "false"} .value=${live(bad ? this.typed.text : text)}
      @keydown=${(/** @type {KeyboardEvent} */ e) => this.#key(e, kind, text)}
      @change=${(/** @type {Event} */ e) => this.#keep(/** @type {HTMLInputElement} */ (e.target), kind, text, whole, way)}>`;
  }

  #why() {
    return this.wrong ? html`<span class="wrong" role="alert"> (${this.wrong})</span>` : nothing;
  }

  /**
   * @param {KeyboardEvent} event
   * @param {import("./reckon/ledger.js").Kind} kind
   * @param {string} before
   */
  #key(event, kind, before) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (event.key === "Escape") {
      input.value = before;
      this.wrong = "";
    } else if (event.key === "Enter") input.blur();
    else if (way && kind !== "words") input.value = stepped(kind, input.value, this.units, way * (event.shiftKey ? 10 : 1));
    else return;
    event.preventDefault();
    event.stopPropagation();
    // A stepped value is no change of its own to the browser, so leaving the blank must be told.
    if (way) input.addEventListener("blur", () => input.dispatchEvent(new Event("change")), { once: true });
  }

  /**
   * @param {HTMLInputElement} input
   * @param {import("./reckon/ledger.js").Kind} kind
   * @param {string} before
   * @param {(value: unknown) => unknown} whole
   * @param {string} way
   */
  #keep(input, kind, before, whole, way) {
    if (input.value.trim() === before) {
      this.wrong = "";
      return;
    }
    const answer = written(kind, input.value, this.units);
    this.typed = { way, text: input.value };
    this.wrong = "sentence" in answer ? answer.sentence : "";
    if ("value" in answer) this.tell("filled", { word: this.gap.word, value: whole(answer.value) });
  }
}
customElements.define("festoon-blank", FestoonBlank);
