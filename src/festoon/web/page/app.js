import { html, nothing, svg } from "./vendor/lit/index.js";
import * as ledger from "./ledger.js";
import { PlainElement } from "./plain-element.js";
import { laidThread, readStitches, stitchCount } from "./reckon/stitches.js";
import { seal } from "./seal.js";
import * as server from "./server.js";
import "./sheet.js";

/** @typedef {"lay-out" | "hoopings" | "proof" | "sheets"} Stage */
/** @typedef {{label: string, edits: import("./types.js").Edit[]}} Change */

/** @type {[Stage, string][]} */
const STAGES = [["lay-out", "Lay out"], ["hoopings", "Hoopings"], ["proof", "Proof"], ["sheets", "Sheets"]];
const LIGHT = "festoon-light";

/** The whole page: the top, the sheet, the ledger, and what passes between them and the server. */
export class FestoonApp extends PlainElement {
  static properties = Object.fromEntries(
    ["piece", "laid", "stage", "panel", "chosen", "units", "light", "division", "hooping", "found", "shown", "files", "file", "busy", "trouble", "said"]
      .map((name) => [name, { state: true }]),
  );

  constructor() {
    super();
    /** @type {import("./types.js").Piece | null} */
    this.piece = null;
    /** @type {import("./reckon/stitches.js").Stitches | null} */
    this.stitches = null;
    /** @type {import("./reckon/stitches.js").Laid | null} */
    this.laid = null;
    this.stage = stageOfAddress();
    this.panel = "";
    this.chosen = "";
    /** @type {import("./types.js").Units} */
    this.units = "mm";
    this.light = localStorage.getItem(LIGHT) ?? "";
    /** @type {import("./types.js").Hoopings | null} */
    this.division = null;
    this.hooping = 1;
    /** @type {import("./types.js").Proof | null} */
    this.found = null;
    this.shown = -1;
    /** @type {import("./types.js").Files | null} */
    this.files = null;
    this.file = "";
    /** @type {{what: server.Work, told: string, stop: AbortController} | null} */
    this.busy = null;
    /** @type {{sentence: string, status: number, change: Change | null} | null} */
    this.trouble = null;
    this.said = "";
  }

  connectedCallback() {
    super.connectedCallback();
    this.#lit();
    window.addEventListener("hashchange", () => this.#arrive(stageOfAddress()));
    window.addEventListener("keydown", (event) => this.#key(event));
    void this.#load(true);
  }

  render() {
    const { piece } = this;
    return html`${this.#top()}
      <main id="main" class="table" @choose=${(/** @type {CustomEvent} */ e) => (this.chosen = e.detail)}
        @change=${(/** @type {CustomEvent} */ e) => e.detail?.edits && this.#change(e.detail)}
        @panel=${(/** @type {CustomEvent} */ e) => (this.panel = e.detail)}
        @hooping=${(/** @type {CustomEvent} */ e) => this.#frame(e.detail)}
        @finding=${(/** @type {CustomEvent} */ e) => this.#show(e.detail)}>
        ${this.stage === "sheets" && this.file
          ? html`<section class="sheet preview" aria-label="Preview"><iframe title=${this.file} src="/api/files/${encodeURIComponent(this.file)}"></iframe></section>`
          : html`<festoon-sheet class="sheet" .piece=${piece} .laid=${this.laid} panel=${this.panel} units=${this.units} stage=${this.stage}
              chosen=${this.chosen} .hoopings=${this.stage === "hoopings" ? this.division : null} .hooping=${this.hooping}
              .proof=${this.stage === "proof" ? this.found : null} .shown=${this.stage === "proof" ? this.shown : -1}></festoon-sheet>`}
        <section class="ledger" aria-label="Ledger">${this.#troubled()}${piece ? this.#ledger(piece) : html`<p class="soft">The cloth is being laid out…</p>`}</section>
      </main>
      <p class="vh" aria-live="polite">${this.said}</p>`;
  }

  #top() {
    const { piece } = this;
    const here = STAGES.findIndex(([stage]) => stage === this.stage);
    return html`<header class="top"><div class="name"><span class="wordmark">Festoon</span><span class="piece">${piece?.name ?? ""}</span></div>
      <nav class="stages" aria-label="Stages of the work">${swag(here, STAGES.length)}<ol>${STAGES.map(([stage, told]) => html`<li>
        <a href="#${stage}" aria-current=${stage === this.stage ? "step" : nothing}>${told}</a></li>`)}</ol></nav>
      <div class="tools">${this.#step("Undo", piece?.undo ?? null, () => this.#back(server.undo))}${this.#step("Redo", piece?.redo ?? null, () => this.#back(server.redo))}
        ${this.#either("Measure in", "unit", [["mm", "mm"], ["inch", "inch"]], this.units, (value) => (this.units = /** @type {import("./types.js").Units} */ (value)))}
        ${this.#either("Light", "light", [["light", "Day"], ["dark", "Evening"]], this.light || (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light"), (value) => this.#lit(value))}
      </div></header>`;
  }

  /**
   * @param {string} told
   * @param {string | null} what
   * @param {() => void} go
   */
  #step(told, what, go) {
    const way = told === "Undo" ? "M7 3.5 3 7.5l4 4M3.4 7.5H12a4.6 4.6 0 0 1 0 9.2H8" : "M13 3.5l4 4-4 4M16.6 7.5H8a4.6 4.6 0 0 0 0 9.2h4";
    return html`<button class="undo" ?disabled=${!what} @click=${go}><svg viewBox="0 0 20 20" aria-hidden="true"><path class="arrow" d=${way}></path></svg>
      <span><b>${told}</b><span class="what">${what ?? ""}</span></span></button>`;
  }

  /**
   * @param {string} label
   * @param {string} name
   * @param {[string, string][]} ways
   * @param {string} chosen
   * @param {(value: string) => void} choose
   */
  #either(label, name, ways, chosen, choose) {
    return html`<div class="either" role="radiogroup" aria-label=${label}>${ways.map(([value, told]) => html`<label><input type="radio" name=${name}
      .checked=${value === chosen} @change=${(/** @type {Event} */ e) => { e.stopPropagation(); choose(value); }}>${told}</label>`)}</div>`;
  }

  /** @param {import("./types.js").Piece} piece */
  #ledger(piece) {
    const tell = (/** @type {string} */ name, /** @type {unknown} */ detail) => this.#heard(name, detail);
    if (this.stage === "lay-out") {
      const count = (/** @type {import("./types.js").Part} */ part) => (this.stitches ? stitchCount(this.stitches, part) : 0);
      return ledger.layOut(piece, this.panel, this.chosen, this.units, count, tell);
    }
    if (this.busy) return this.#progress(this.busy);
    if (this.stage === "hoopings" && this.division) return ledger.hoopings(this.division, this.hooping, tell);
    if (this.stage === "proof" && this.found) return ledger.proof(this.found, this.shown, tell);
    if (this.stage === "sheets" && this.files) return ledger.sheets(this.files, this.file, tell);
    return html`<p><button class="do" @click=${() => this.#work()}>Work it out</button></p>`;
  }

  /** @param {{what: server.Work, told: string, stop: AbortController}} busy */
  #progress(busy) {
    const head = { hoopings: "Dividing into hoopings", proof: "Proving the work", sheets: "Drawing the sheets" }[busy.what];
    return html`<h1>${head}</h1><p class="lead" aria-live="polite">${busy.told || "This takes a few seconds."}</p>
      <progress class="progress" aria-label=${head} max="1"></progress>
      <p><button class="may" @click=${() => busy.stop.abort()}>Stop</button></p>`;
  }

  #troubled() {
    const { trouble } = this;
    if (!trouble) return nothing;
    return html`<div class="trouble" role="alert">${seal("will not work")}<div><p>${trouble.sentence}</p><div class="row">
      ${trouble.status === 409 ? html`<button class="may" @click=${() => this.#load()}>Show the newer piece</button>
        ${trouble.change ? html`<button class="may" @click=${() => this.#again(/** @type {Change} */ (trouble.change))}>Set mine on it as well</button>` : nothing}`
        : html`<button class="may" @click=${() => (this.trouble = null)}>Put this note away</button>`}</div></div></div>`;
  }

  /**
   * @param {string} name
   * @param {unknown} detail
   */
  #heard(name, detail) {
    if (name === "choose") this.chosen = /** @type {string} */ (detail);
    else if (name === "change") void this.#change(/** @type {Change} */ (detail));
    else if (name === "hooping") this.#frame(/** @type {number} */ (detail));
    else if (name === "finding") void this.#show(/** @type {number} */ (detail));
    else if (name === "file") this.file = /** @type {string} */ (detail);
  }

  /** @param {number} number */
  #frame(number) {
    this.hooping = number;
    this.panel = this.division?.hoopings.find((h) => h.record.number === number)?.record.panel ?? this.panel;
  }

  /** @param {number} index */
  async #show(index) {
    this.shown = -1;
    await this.updateComplete;
    const where = this.found?.findings[index]?.where;
    if (where?.panel) this.panel = where.panel;
    this.shown = index;
    this.said = where ? `The sheet shows ${where.told}.` : "";
  }

  /**
   * @param {boolean} [first]
   * @param {import("./types.js").Piece} [given] the piece, where it was just told
   */
  async #load(first = false, given) {
    try {
      const piece = given ?? (await server.getPiece());
      this.stitches = readStitches(await server.getStitches(piece.revision));
      this.laid = laidThread(this.stitches, piece.parts);
      if (piece.revision !== this.piece?.revision) this.#stale();
      this.piece = piece;
      if (first) this.units = piece.units;
      if (!piece.panels.some((p) => p.name === this.panel)) this.panel = piece.panels[0]?.name ?? "";
      if (!piece.parts.some((p) => p.name === this.chosen)) this.chosen = "";
      document.title = `${piece.name} · Festoon`;
      this.trouble = null;
      if (this.stage !== "lay-out") void this.#work();
    } catch (error) {
      this.#refused(error, null);
    }
  }

  #stale() {
    this.busy?.stop.abort();
    this.division = null;
    this.found = null;
    this.files = null;
    this.file = "";
    this.shown = -1;
  }

  /** @param {Change} change */
  async #change(change) {
    if (!this.piece) return;
    try {
      await this.#load(false, await server.change(this.piece.revision, change.label, change.edits));
      this.said = `Done: ${change.label}.`;
    } catch (error) {
      /** @type {import("./sheet.js").FestoonSheet | null} */ (this.querySelector("festoon-sheet"))?.letGo();
      this.#refused(error, change);
    }
  }

  /** @param {Change} change */
  async #again(change) {
    await this.#load();
    await this.#change(change);
  }

  /** @param {(revision: string) => Promise<import("./types.js").Piece>} way */
  async #back(way) {
    if (!this.piece) return;
    try {
      await this.#load(false, await way(this.piece.revision));
      this.said = this.piece.undo ? `Undo would now take back ${this.piece.undo}.` : "Nothing is left to undo.";
    } catch (error) {
      this.#refused(error, null);
    }
  }

  /** @param {Stage} stage */
  #arrive(stage) {
    this.stage = stage;
    this.chosen = "";
    this.trouble = null;
    void this.#work();
  }

  /** Works out what the stage shows, unless that is there. */
  async #work() {
    const what = this.stage;
    const have = { "lay-out": true, hoopings: this.division, proof: this.found, sheets: this.files }[what];
    if (what === "lay-out" || have || !this.piece || this.busy?.what === what) return;
    this.busy?.stop.abort();
    const busy = { what, told: "", stop: new AbortController() };
    this.busy = busy;
    try {
      await server.work(what, this.piece.revision, (told) => {
        if (this.busy?.stop === busy.stop) this.busy = { ...busy, told };
      }, busy.stop.signal);
      if (what === "hoopings") this.division = await server.getHoopings();
      else if (what === "proof") this.found = await server.getProof();
      else this.#filed(await server.getFiles());
    } catch (error) {
      if (!(error instanceof server.Stopped)) this.#refused(error, null);
    }
    if (this.busy?.stop === busy.stop) this.busy = null;
  }

  /** @param {import("./types.js").Files} files */
  #filed(files) {
    this.files = files;
    this.file = files.files.find((f) => ledger.canShow(f.name))?.name ?? "";
  }

  /**
   * @param {unknown} error
   * @param {Change | null} change
   */
  #refused(error, change) {
    const sentence = error instanceof Error ? error.message : String(error);
    this.trouble = { sentence, status: error instanceof server.Refusal ? error.status : 0, change };
  }

  /** @param {string} [light] */
  #lit(light) {
    if (light) {
      this.light = light;
      localStorage.setItem(LIGHT, light);
    }
    if (this.light) document.documentElement.dataset.light = this.light;
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const typing = event.target instanceof HTMLInputElement && event.target.type !== "radio";
    if (!(event.ctrlKey || event.metaKey) || typing) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) void this.#back(server.undo);
    else if (key === "y" || (key === "z" && event.shiftKey)) void this.#back(server.redo);
    else return;
    event.preventDefault();
  }
}

/** @returns {Stage} */
function stageOfAddress() {
  return STAGES.find(([stage]) => stage === location.hash.slice(1))?.[0] ?? "lay-out";
}

/**
 * The thread that hangs from stage to stage: drawn through as far as the work has got.
 * @param {number} here
 * @param {number} count
 */
function swag(here, count) {
  const step = 640 / count;
  const knots = Array.from({ length: count }, (_, i) => step * (i + 0.5));
  const bows = knots.slice(1).map((x, i) => `M${knots[i]} 14C${knots[i] + 34} 31 ${x - 34} 31 ${x} 14`);
  const start = `M4 27C20 31 40 25 ${knots[0]} 14`;
  return html`<svg viewBox="0 0 640 70" preserveAspectRatio="xMidYMin meet" aria-hidden="true">
    ${[start, ...bows].map((d, i) => (i <= here
      ? svg`<path class="swag-under" d=${d} transform="translate(0 .8)"></path><path class="swag" d=${d}></path><path class="swag-twist" d=${d}></path>`
      : svg`<path class="swag-ahead" d=${d}></path>`))}
    ${knots.map((x, i) => svg`<circle class=${i <= here ? "knot" : "knot-ahead"} cx=${x} cy="14" r=${i === here ? 9 : 5}></circle>`)}
    <path class="knot-turn" transform="translate(${knots[here]} 14)" d="M-6-2C-2.4-6.2 4.2-5.4 5.8-.6M-6.4 2.2C-2.4-1 3-.4 5 3.4M-3.6 6C-1.4 4.6.8 4.8 2.4 6"></path>
    <path class="needle" transform="translate(${knots[here] + 17} 23) rotate(11)" d="M0 0C1-2.3 5-2.5 11-1.8L48 0 11 1.8C5 2.5 1 2.3 0 0Z"></path></svg>`;
}
customElements.define("festoon-app", FestoonApp);
