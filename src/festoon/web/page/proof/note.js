/** Where a finding is accepted: a button, and in its place a blank for the note. */

import { html, nothing } from "../vendor/lit/index.js";
import { PlainElement } from "../plain-element.js";

/** As many characters as the piece file takes. */
const LONGEST = 500;

export class FestoonNote extends PlainElement {
  static properties = { told: {}, accept: { attribute: false }, open: { state: true }, wrong: { state: true } };

  constructor() {
    super();
    /** What is accepted, for those who do not see it. */
    this.told = "";
    /** @type {(note: string) => Promise<string>} gives the sentence why it cannot be, or "" */
    this.accept = async () => "";
    this.open = false;
    this.wrong = "";
  }

  render() {
    if (!this.open) return html`<button class="may" @click=${this.#begin}>Accept it, with a note<span class="vh">: ${this.told}</span></button>`;
    return html`<form class="note" @submit=${this.#keep}><label>Why you let it be. It stands on the sheets with the rest.
        <textarea rows="2" maxlength=${LONGEST} aria-invalid=${this.wrong !== ""} @keydown=${this.#key}></textarea></label>
      ${this.wrong ? html`<p class="wrong" role="alert">${this.wrong}</p>` : nothing}
      <p class="row"><button class="may" type="submit">Accept it</button><button class="may" type="button" @click=${this.#leave}>Never mind</button></p></form>`;
  }

  async #begin() {
    this.open = true;
    await this.updateComplete;
    this.querySelector("textarea")?.focus();
  }

  async #leave() {
    Object.assign(this, { open: false, wrong: "" });
    await this.updateComplete;
    this.querySelector("button")?.focus();
  }

  /** @param {Event} event */
  async #keep(event) {
    event.preventDefault();
    const note = this.querySelector("textarea")?.value.trim() ?? "";
    this.wrong = note ? await this.accept(note) : "Write a word or two on why it may stay as it is.";
    if (this.wrong) this.querySelector("textarea")?.focus();
    else this.open = false;
  }

  /** Enter keeps, Escape leaves, as in every blank. @param {KeyboardEvent} event */
  #key(event) {
    if (event.key === "Enter" && !event.shiftKey) void this.#keep(event);
    else if (event.key === "Escape") void this.#leave();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }
}
customElements.define("festoon-note", FestoonNote);
