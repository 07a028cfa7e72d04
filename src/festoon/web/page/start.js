import { html, nothing, svg } from "./vendor/lit/index.js";
import "./blank.js";
import { bringIn, FILES } from "./bring-in.js";
import { PlainElement } from "./plain-element.js";
import { gapOf } from "./reckon/ledger.js";
import { readLength, showLength } from "./reckon/length.js";
import * as server from "./server.js";
import { STAGES } from "./stages/all.js";
import { capital } from "./words.js";

/** @typedef {import("./types.js").Answers} Answers */
/** @typedef {import("./types.js").Start} Start */
/** @typedef {import("./types.js").Spot} Spot */

/** What the machines' stitch files are called. */
const FORMATS = ["dst", "exp", "pes", "jef", "vp3"];
/** mm; longer is a slip of the pen (the server's own limit). */
const LONGEST = 100_000;
const UNITS = { millimetres: "mm", inches: "inch" };
const HELD = ["a screw", "magnets"];
/** Earlier pieces shown before the rest are asked for. */
const FEW = 5;

/** The start: three questions, examples, earlier pieces. */
export class FestoonStart extends PlainElement {
  static properties = { store: { attribute: false }, told: { state: true }, answers: { state: true }, files: { state: true }, busy: { state: true }, all: { state: true } };

  constructor() {
    super();
    /** @type {import("./store.js").Store} */
    this.store;
    /** @type {Start | null} */
    this.told = null;
    /** @type {Answers | null} */
    this.answers = null;
    /** @type {File[]} motifs of her own */
    this.files = [];
    /** What is being opened, "" where nothing is. */
    this.busy = "";
    this.all = false;
  }

  connectedCallback() {
    super.connectedCallback();
    this.store.addEventListener(FILES, this.#taken);
    void this.#load();
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    this.store.removeEventListener(FILES, this.#taken);
  }

  render() {
    const { told, answers } = this;
    return html`<h1>What would you like to sew?</h1>
      ${told && answers ? html`${this.#examples(told)}${this.#questions(told, answers)}${this.#earlier(told)}${steps()}`
        : html`<p class="soft" aria-live="polite">${this.store.trouble ? "" : "The table is being cleared…"}</p>`}`;
  }

  async #load() {
    try {
      this.told = await server.getStart();
      const american = new Intl.Locale(navigator.language).maximize().region === "US";
      this.answers ??= { ...this.told.answers, units: american ? "inch" : "mm", name: "My piece", motifs: [] };
    } catch (error) {
      this.store.refused(error, null);
    }
  }

  /** @param {Start} told */
  #examples(told) {
    return html`<section class="examples" aria-labelledby="examples"><h2 id="examples">Take an example</h2>
      <p class="soft">Every one is finished work. You get a copy to change as you like.</p>
      <ul class="envelopes">${told.examples.map(({ key, name, told: about, size, cloth }) => html`<li><button class="envelope" ?disabled=${this.busy !== ""}
        @click=${() => this.#open(key, () => server.takeExample(key))}><span class="art"><img src=${server.examplePicture(key)} alt=""></span>
        <span class="what"><b>${name}</b><span>${about}</span>
        <span>${capital(cloth || "cloth")}, ${showLength(size[0], this.#units)} by ${showLength(size[1], this.#units)}.</span></span></button></li>`)}</ul></section>`;
  }

  /**
   * @param {Start} told
   * @param {Answers} answers
   */
  #questions(told, answers) {
    const { size, field, units, cloth, magnetic, format, name } = answers;
    return html`<section class="questions ledger" aria-labelledby="questions"><h2 id="questions">Begin with three questions</h2>
      <div class="ask"><div class="ruled">
        <p><span class="q">1</span>My cloth is ${this.#length("width of the cloth", size[0], (v) => ({ size: [v, size[1]] }))} by
          ${this.#length("height of the cloth", size[1], (v) => ({ size: [size[0], v] }))}. It is ${this.#gap(gapOf("what cloth", "words", cloth), (v) => ({ cloth: String(v) }))}.
          I measure in ${this.#gap(gapOf("units", "choice", units === "mm" ? "millimetres" : "inches", { choices: Object.keys(UNITS) }), (v) => ({ units: v === "inches" ? "inch" : "mm" }))}.</p>
        <p><span class="q">2</span>My hoop sews ${this.#length("width of the field", field[0], (v) => ({ field: [v, field[1]] }))} by
          ${this.#length("height of the field", field[1], (v) => ({ field: [field[0], v] }))} and is closed by
          ${this.#gap(gapOf("how the hoop is closed", "choice", HELD[magnetic ? 1 : 0], { choices: HELD }), (v) => ({ magnetic: v === HELD[1] }))}.
          My machine reads ${this.#gap(gapOf("the machine's files", "choice", format, { choices: FORMATS }), (v) => ({ format: String(v) }))} files.</p></div>
        ${toScale(size, field)}</div>
      ${this.#motifs(told, answers)}
      <div class="ruled"><p>I call it ${this.#gap(gapOf("name of the piece", "words", name), (v) => ({ name: String(v) }))}.</p></div>
      <div class="row"><button class="do" ?disabled=${this.busy !== ""} @click=${() => this.#begin()}>Lay out the cloth</button>
        <span class="soft small" aria-live="polite">${this.busy === "new" ? "The cloth is being laid out…" : html`It will be kept in ${told.home}.`}</span></div></section>`;
  }

  /**
   * @param {Start} told
   * @param {Answers} answers
   */
  #motifs(told, answers) {
    const { motifs } = answers;
    return html`<fieldset class="motif-choice"><legend><span class="q">3</span>I want to sew these motifs:</legend>
      <ul class="own">${told.motifs.map(({ key, name }) => html`<li><label class="tile"><input type="checkbox" .checked=${motifs.includes(key)}
        @change=${() => this.#answer({ motifs: motifs.includes(key) ? motifs.filter((m) => m !== key) : [...motifs, key] })}>
        <img src=${server.ownMotifPicture(key)} alt=""><span>${name}</span></label></li>`)}</ul>
      <p class="row"><label class="may file">My own stitch files<input class="vh" type="file" multiple @change=${(/** @type {Event} */ event) => this.#chosen(event)}></label>
        <span class="soft small">${this.files.length ? nothing : "Or drop them anywhere here. You can bring in more at any time."}</span></p>
      ${this.files.length ? html`<ul class="taken" aria-label="My own stitch files">${this.files.map((file) => html`<li>${file.name}
        <button class="leaf" type="button" @click=${() => (this.files = this.files.filter((f) => f !== file))}>Leave out<span class="vh"> ${file.name}</span></button></li>`)}</ul>` : nothing}
    </fieldset>`;
  }

  /** @param {Start} told */
  #earlier(told) {
    const shown = this.all ? told.recent : told.recent.slice(0, FEW);
    return html`<section class="earlier" aria-labelledby="earlier"><h2 id="earlier">Open a piece</h2>
      ${shown.length ? html`<ul>${shown.map((piece) => html`<li>${piece.missing
        ? html`<span class="gone"><b>${piece.name}</b> <span class="soft small">It no longer lies in ${piece.folder}.</span></span>
          <button class="may" @click=${() => this.#forget(piece.key)}>Forget it<span class="vh">: ${piece.name}</span></button>`
        : html`<a class="kept" href=${server.pieceAddress(piece.key)}><b>${piece.name}</b> <span class="soft small">${when(piece.opened)}, in ${piece.folder}</span></a>`}</li>`)}</ul>
        ${told.recent.length > shown.length ? html`<p><button class="leaf" @click=${() => (this.all = true)}>Show all ${told.recent.length}</button></p>` : nothing}`
        : html`<p>Nothing has been kept on this computer yet. A piece is kept as you work; you need not save it.</p>`}
      <form class="row" @submit=${(/** @type {Event} */ event) => this.#find(event)}><label class="soft small" for="folder">A piece in a folder</label>
        <input class="written" id="folder" name="folder" autocomplete="off" spellcheck="false" placeholder="~/Festoon/wreath"><button class="may" ?disabled=${this.busy !== ""}>Open it</button></form></section>`;
  }

  get #units() {
    return this.answers?.units ?? "mm";
  }

  /**
   * A blank for a length.
   * @param {string} name
   * @param {number} mm
   * @param {(mm: number) => Partial<Answers>} answer
   */
  #length(name, mm, answer) {
    return this.#gap(gapOf(name, "length", mm), (value) => {
      const length = typeof value === "number" ? value : readLength(String(value), this.#units);
      if (!(length > 0)) return "It must be more than nothing.";
      return length > LONGEST ? `Cloth and hoops are no longer than ${LONGEST / 1000} m.` : answer(length);
    });
  }

  /**
   * A blank; `answer` gives what the value answers, or why it cannot be.
   * @param {import("./types.js").Gap} gap
   * @param {(value: unknown) => Partial<Answers> | string} answer
   */
  #gap(gap, answer) {
    const keep = async (/** @type {string} */ _, /** @type {unknown} */ value) => {
      const news = answer(value);
      if (typeof news === "string") return news;
      this.#answer(news);
      return "";
    };
    return html`<festoon-blank .gap=${gap} .keep=${keep} units=${this.#units}></festoon-blank>`;
  }

  /** @param {Partial<Answers>} news */
  #answer(news) {
    if (this.answers) this.answers = { ...this.answers, ...news };
  }

  #taken = (/** @type {Event} */ event) => {
    this.#collect(/** @type {CustomEvent<File[]>} */ (event).detail);
  };

  /** @param {Event} event */
  #chosen(event) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    this.#collect([...(input.files ?? [])]);
    input.value = "";
  }

  /** @param {File[]} files */
  #collect(files) {
    this.files = [...this.files, ...files];
    this.store.say(files.length === 1 ? `${files[0].name} will be brought in.` : `${files.length} files will be brought in.`);
  }

  async #begin() {
    const { answers, files } = this;
    const bad = /** @type {HTMLElement | null} */ (this.querySelector(".questions .n.bad"));
    if (bad || !answers) bad?.focus();
    else await this.#open("new", () => server.begin(answers), () => bringIn(this.store, files));
  }

  /** @param {Event} event */
  async #find(event) {
    event.preventDefault();
    const folder = String(new FormData(/** @type {HTMLFormElement} */ (event.target)).get("folder"));
    await this.#open("folder", () => server.openFolder(folder));
  }

  /**
   * Opens what `ask` gives the key of, and goes to lay it out.
   * @param {string} busy
   * @param {() => Promise<string>} ask
   * @param {() => Promise<unknown>} [then]
   */
  async #open(busy, ask, then) {
    if (this.busy) return;
    this.busy = busy;
    this.store.say("The cloth is being laid out.");
    try {
      const key = await ask();
      if (await this.store.open(key)) {
        history.replaceState(null, "", `/?piece=${encodeURIComponent(key)}#start`);
        location.hash = "lay-out";
        await then?.();
      }
    } catch (error) {
      this.store.refused(error, null);
    }
    this.busy = "";
  }

  /** @param {string} key */
  async #forget(key) {
    try {
      await server.forget(key);
    } catch (error) {
      this.store.refused(error, null);
    }
    await this.#load();
  }
}

/**
 * The hoop drawn against the cloth, to the same scale.
 * @param {Spot} cloth
 * @param {Spot} field
 */
function toScale(cloth, field) {
  const side = Math.max(...cloth, ...field.map((f) => f * 1.3));
  const [w, h, fw, fh] = [...cloth, ...field].map((v) => (v / side) * 200);
  const [x, y] = [(200 - w) / 2, (200 - h) / 2];
  return html`<figure class="to-scale"><svg viewBox="-4 -4 208 208" role="img" aria-label="The hoop drawn against the cloth, to the same scale">
    ${svg`<rect class="cloth" x=${x} y=${y} width=${w} height=${h}></rect><rect class="cut" x=${x} y=${y} width=${w} height=${h}></rect>
      <path class="centre" d="M100 ${y}v${h}M${x} 100h${w}"></path>
      <rect class="hoop-edge" x=${100 - fw / 2} y=${100 - fh / 2} width=${fw} height=${fh} rx="5"></rect><rect class="hoop-wood-line" x=${100 - fw / 2} y=${100 - fh / 2} width=${fw} height=${fh} rx="5"></rect>`}
    </svg><figcaption>hoop, to scale</figcaption></figure>`;
}

/** What comes after. */
function steps() {
  const at = (/** @type {number} */ i) => 64 + 128 * i;
  return html`<section class="five"><p>From here the work goes in five steps, in this order or any other.</p><div class="thread-ahead"><svg viewBox="0 0 640 40" aria-hidden="true">
    ${STAGES.map((_, i) => (i ? svg`<path class="swag-ahead" d="M${at(i - 1)} 14C${at(i - 1) + 38} 31 ${at(i) - 38} 31 ${at(i)} 14"></path>` : nothing))}
    ${STAGES.map((_, i) => svg`<circle class="knot-ahead" cx=${at(i)} cy="14" r="5"></circle>`)}</svg><ol>${STAGES.map((stage) => html`<li>${stage.told}</li>`)}</ol></div></section>`;
}

/** A time in the reader's own words. @param {string} moment */
function when(moment) {
  const date = new Date(moment);
  return Number.isNaN(date.valueOf()) ? "opened earlier" : date.toLocaleString("en-GB", { day: "numeric", month: "long", year: "numeric", hour: "2-digit", minute: "2-digit" });
}
customElements.define("festoon-start", FestoonStart);
