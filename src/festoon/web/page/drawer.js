import { html, nothing } from "./vendor/lit/index.js";
import { chooseElement } from "./deeds.js";
import { drawerShut, likeDrawerShut } from "./liked.js";
import { wanted } from "./picking.js";
import { PlainElement } from "./plain-element.js";
import { bringIn } from "./bring-in.js";
import { freeName } from "./reckon/bring-in.js";
import { showLength } from "./reckon/length.js";
import * as server from "./server.js";
import { counted, whole } from "./words.js";

/** @typedef {import("./types.js").Beginning} Beginning */
/** @typedef {import("./types.js").Motif} Motif */
/** @typedef {import("./types.js").Spot} Spot */

/** How many parts a question for one needs, at least. */
const WANTS = { part: 2, element: 1 };

/** The drawer at the left of the sheet: what may be added to the piece, by whatever the house can do. */
export class FestoonDrawer extends PlainElement {
  static properties = {
    store: { attribute: false },
    shut: { state: true },
    all: { state: true },
    motifs: { state: true },
    filing: { state: true },
    short: { state: true },
  };

  constructor() {
    super();
    /** @type {import("./store.js").Store} */
    this.store;
    this.shut = drawerShut();
    /** @type {Beginning[]} */
    this.all = [];
    /** @type {Motif[]} */
    this.motifs = [];
    /** @type {Beginning | null} what a file is just chosen for */
    this.filing = null;
    /** What is missing for what was chosen, in a sentence. */
    this.short = "";
    this.changed = () => this.requestUpdate();
    this.asked = () => void this.#opened();
  }

  connectedCallback() {
    super.connectedCallback();
    this.store.addEventListener("change", this.changed);
    this.store.addEventListener("drawer", this.asked);
    void this.#fetch();
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    this.store.removeEventListener("change", this.changed);
    this.store.removeEventListener("drawer", this.asked);
  }

  async #fetch() {
    try {
      this.all = await server.getBeginnings();
    } catch (error) {
      this.store.refused(error, null);
    }
  }

  render() {
    const inner = this.store.picking ? this.#picking() : this.filing ? this.#files(this.filing) : this.#entries();
    return html`<aside class="drawer ${this.shut ? "shut" : ""}" aria-label="Drawer">
      <h2 class="drawer-head"><button class="drawer-pull" aria-expanded=${this.shut ? "false" : "true"} aria-controls="drawer-inside" @click=${() => this.#shut(!this.shut)}>
        <span class="knob" aria-hidden="true"></span><span>Add to the piece</span></button></h2>
      <div id="drawer-inside" class="drawer-inside" ?hidden=${this.shut}>${inner}</div></aside>`;
  }

  #entries() {
    return html`${this.short ? html`<p class="drawer-short" role="alert">${this.short}</p>` : nothing}
      <ul class="entries">${this.all.map((begins) => html`<li><button class="entry" title=${begins.sentence} @click=${() => this.#begin(begins)}>
        <img src=${server.beginningPicture(begins.number)} alt="" width="160" height="80" loading="lazy"><span class="entry-name">${begins.told}</span>
        <span class="vh">. ${begins.sentence}</span></button></li>`)}</ul>`;
  }

  /** @param {Beginning} begins */
  #files(begins) {
    const { units } = this.store;
    return html`<p class="drawer-say">${begins.asks.find((ask) => ask.wants === "file")?.told}</p>
      <ul class="entries">${this.motifs.map((motif) => html`<li><button class="entry" ?disabled=${Boolean(motif.wrong)} @click=${() => this.#point(begins, motif.file)}>
        ${motif.wrong ? nothing : html`<img src=${server.motifPicture(motif.file)} alt="" loading="lazy">`}
        <span class="entry-name">${whole(freeName(motif.file, []))}</span>
        <span class="small">${motif.wrong || `${showLength(motif.size[0], units)} by ${showLength(motif.size[1], units)}, ${counted(motif.stitches)} stitches`}</span></button></li>`)}</ul>
      ${this.motifs.length ? nothing : html`<p class="drawer-say">The piece's folder holds no stitch file yet.</p>`}
      <div class="drawer-foot"><label class="may file-chooser">Choose files of your own<input class="vh" type="file" multiple
          @change=${(/** @type {Event} */ e) => this.#bring(/** @type {HTMLInputElement} */ (e.target))}></label>
        <button class="may" @click=${() => this.#back()}>Put back</button></div>`;
  }

  #picking() {
    const { store } = this;
    const { picking } = store;
    const next = wanted(picking);
    if (!picking || !next) return nothing;
    const middle = () => {
      store.set({ picking: null });
      picking.done(picking.got);
    };
    return html`<div class="drawer-say" role="status"><b>${picking.told}</b><br>${next.told}<br><span class="small">Choose it on the sheet, by click or by Tab and Enter.</span></div>
      <div class="drawer-foot">${next.wants === "place" ? html`<button class="may" @click=${middle}>In the middle</button>` : nothing}
        <button class="may" @click=${() => this.#back()}>Put back</button></div>`;
  }

  /** @param {boolean} shut */
  #shut(shut) {
    this.shut = shut;
    likeDrawerShut(shut);
  }

  async #opened() {
    this.#shut(false);
    await this.#first();
  }

  /** Leads the keyboard to what lies at the top of the drawer. */
  async #first() {
    await this.updateComplete;
    /** @type {HTMLElement | null} */ (this.querySelector(".entry:not(:disabled), .drawer-foot .may"))?.focus();
  }

  /** Everything back in its place. */
  async #back() {
    this.filing = null;
    this.store.set({ picking: null });
    await this.#first();
  }

  /** @param {Beginning} begins */
  async #begin(begins) {
    const { store } = this;
    this.short = this.#lacking(begins);
    if (this.short) return;
    if (!begins.asks.some((ask) => ask.wants === "file")) {
      this.#point(begins, "");
      return;
    }
    try {
      this.motifs = await server.getMotifs();
      this.filing = begins;
      await this.#first();
    } catch (error) {
      store.refused(error, null);
    }
  }

  /** @param {HTMLInputElement} input */
  async #bring(input) {
    const files = [...(input.files ?? [])];
    input.value = "";
    if (await bringIn(this.store, files)) this.filing = null;
    else this.motifs = await server.getMotifs().catch(() => this.motifs);
  }

  /** What the cloth lacks for it, in a sentence. @param {Beginning} begins */
  #lacking(begins) {
    const { parts, cloth } = this.store;
    const need = Math.max(0, ...begins.asks.map(({ wants }) => (wants === "part" || wants === "element" ? WANTS[wants] : 0)));
    if (parts.length < need) return need > 1 ? "It needs two parts on this cloth. Set a motif on it first, and another." : "It needs something on this cloth. Set a motif on it first.";
    if (begins.asks.some(({ wants }) => wants === "line") && !Object.keys(cloth?.lines ?? {}).length) return "It needs a line, and this cloth has none with a name.";
    return "";
  }

  /**
   * Has the rest pointed out on the sheet.
   * @param {Beginning} begins
   * @param {string} file
   */
  #point(begins, file) {
    this.filing = null;
    const words = begins.asks.flatMap(({ word, told, wants }) =>
      (wants === "file" ? [] : [{ word, told, wants: /** @type {"part" | "place" | "line"} */ (wants === "element" ? "part" : wants) }]));
    if (!words.length) {
      void this.#add(begins, file, {});
      return;
    }
    const { store } = this;
    store.set({ chosen: [], taking: [], said: words[0].told, picking: { kind: begins.kind, told: begins.told, words, got: {}, done: (got) => void this.#add(begins, file, got) } });
    /** @type {HTMLElement | null} */ (document.querySelector(".tissue"))?.focus(); // from there Tab goes to the parts
  }

  /**
   * @param {Beginning} begins
   * @param {string} file
   * @param {Record<string, string | Spot>} got
   */
  async #add(begins, file, got) {
    const { store } = this;
    const { piece, panel } = store;
    if (!piece) return;
    /** @param {unknown} found */
    const elementOf = (found) => piece.parts.find((part) => part.name === found)?.element ?? "";
    const name = freeName(file || begins.kind, [...piece.elements, ...piece.parts].map((one) => one.name));
    /** @type {Record<string, unknown>} */
    const element = { kind: begins.kind, name, ...(piece.panels.length > 1 ? { panel } : {}), ...begins.words };
    for (const { word, wants } of begins.asks) {
      const found = wants === "file" ? file : wants === "element" ? elementOf(got[word]) : got[word];
      if (found !== undefined) element[word] = found;
    }
    const under = begins.under ? piece.elements.find((e) => Object.values(got).some((found) => elementOf(found) === e.name)) : null;
    if (await store.change(`adding ${name}`, [{ do: "add", element, before: under?.name ?? null }])) chooseElement(store, name);
  }
}
customElements.define("festoon-drawer", FestoonDrawer);
