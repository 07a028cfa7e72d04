import { LitElement } from "./vendor/lit/index.js";

/** A Lit element that draws straight into the page, so that one stylesheet holds for all of it. */
export class PlainElement extends LitElement {
  createRenderRoot() {
    return this;
  }

  /**
   * Tells whoever listens above.
   * @param {string} name
   * @param {unknown} [detail]
   */
  tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true }));
  }
}
