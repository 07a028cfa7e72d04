import { html, nothing, svg } from "./vendor/lit/index.js";
import "./bring-in.js";
import { likedLight, likeLight } from "./liked.js";
import { PlainElement } from "./plain-element.js";
import { seal } from "./seal.js";
import { lost } from "./server.js";
import { sharing } from "./share.js";
import "./sheet.js";
import { fetchAll, signOfAddress, stageNamed, stageOfAddress, STAGES } from "./stages/all.js";
import { Store } from "./store.js";
import { capital } from "./words.js";

/** @typedef {import("./stages/stage.js").Stage} Stage */

const FIRST = await stageOfAddress();
/** ms after which the first picture is there, and the other stages may come (own choice). */
const UNHURRIED = 1000;
const WORKING = { hoopings: "Dividing into hoopings", proof: "Proving the work", sheets: "Drawing the sheets" };

/** The whole page: the top, and of the stage that is open the sheet and its ledger. */
export class FestoonApp extends PlainElement {
  static properties = { stage: { state: true }, light: { state: true } };

  constructor() {
    super();
    this.store = new Store();
    /** @type {Stage} */
    this.stage = FIRST;
    this.light = likedLight();
    this.asked = "";
  }

  connectedCallback() {
    super.connectedCallback();
    this.store.addEventListener("change", () => this.#changed());
    window.addEventListener("hashchange", () => this.#arrive());
    window.addEventListener("keydown", (event) => this.#key(event));
    void this.#open();
    if (FIRST.id !== signOfAddress().id) void this.#arrive(); // she went on before this was here
  }

  render() {
    const { store, stage } = this;
    return html`${this.#top()}
      <main id="main" class="table ${stage.id}">${this.#troubled()}${stage.drawer?.(store)}
        <festoon-sheet class="sheet" ?hidden=${Boolean(stage.whole ?? stage.place)} .store=${store} .stage=${stage}></festoon-sheet>
        ${stage.whole ? stage.whole(store) : html`${stage.place?.(store)}<section class="ledger" aria-label="Ledger">${this.#ledger()}</section>`}</main>
      <festoon-files .store=${store} .stage=${stage}></festoon-files>
      <p class="vh" aria-live="polite">${store.said}</p>`;
  }

  /** Opens the piece that the address names; where there is none, begins at the start. */
  async #open() {
    await this.store.load();
    if (!this.store.piece) {
      history.replaceState(null, "", "#start");
      this.stage = await stageNamed("start");
    }
    setTimeout(fetchAll, UNHURRIED);
  }

  #top() {
    const { piece } = this.store;
    const here = STAGES.findIndex(({ id }) => id === this.stage.id);
    const light = this.#either("Light", "light", [["light", "Day"], ["dark", "Evening"]], this.light || (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light"), (value) => this.#lit(value));
    if (here < 0) return html`<header class="top bare"><div class="name"><span class="wordmark">Festoon</span></div><div class="tools">
      ${piece ? html`<a class="may" href="#${STAGES[0].id}">Back to ${piece.name}</a>` : nothing}${light}</div></header>`;
    return html`<header class="top"><div class="name"><a class="wordmark" href="#start">Festoon</a><span class="piece">${piece?.name ?? ""}</span></div>
      <nav class="stages" aria-label="Stages of the work">${swag(here, STAGES.length)}<ol>${STAGES.map(({ id, told }, at) => html`<li>
        <a href="#${id}" aria-current=${at === here ? "step" : nothing}>${told}</a></li>`)}</ol></nav>
      <div class="tools">${this.#step("Undo", piece?.undo ?? null, () => this.store.undo())}${this.#step("Redo", piece?.redo ?? null, () => this.store.redo())}
        ${this.#either("Measure in", "unit", [["mm", "mm"], ["inch", "inch"]], this.store.units, (value) => this.store.measure(value === "inch" ? "inch" : "mm"))}
        ${light}${sharing(this.store, "Share")}
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
      .checked=${value === chosen} @change=${() => choose(value)}>${told}</label>`)}</div>`;
  }

  #ledger() {
    const { store, stage } = this;
    if (!store.piece) return html`<p class="soft">The cloth is being laid out…</p>`;
    const due = stage.needs !== null && !ready(store, stage.needs) && this.asked !== this.#seen;
    const waiting = store.busy || due ? stage.waiting?.(store) ?? nothing : nothing;
    if (waiting !== nothing) return waiting;
    if (stage.needs && store.busy) return progress(store.busy);
    if (stage.needs && !ready(store, stage.needs)) return html`<p><button class="do" @click=${() => this.#work()}>Work it out</button></p>`;
    return stage.ledger?.(store);
  }

  #troubled() {
    const { store } = this;
    const { trouble } = store;
    if (!trouble) return nothing;
    const { change } = trouble;
    return html`<div class="trouble" role="alert">${seal("will not work")}<div><p>${trouble.sentence}</p><div class="row">
      ${trouble.status === 409 ? html`<button class="may" @click=${() => store.load()}>Show the newer piece</button>
        ${change ? html`<button class="may" @click=${() => store.again(change)}>Set mine on it as well</button>` : nothing}`
        : html`<button class="may" @click=${() => store.set({ trouble: null })}>Put this note away</button>`}</div></div></div>`;
  }

  /** Goes to the stage that the address names; where it does not come, stays and says so. */
  async #arrive() {
    const { hash } = location;
    try {
      const stage = await stageOfAddress();
      if (hash !== location.hash) return; // she went on meanwhile
      this.stage = stage;
      this.store.set({ chosen: [], trouble: null });
    } catch {
      history.replaceState(null, "", `#${this.stage.id}`);
      this.store.refused(lost(), null);
    }
  }

  #changed() {
    const { piece } = this.store;
    if (piece) document.title = `${piece.name} · Festoon`;
    this.requestUpdate();
  }

  /** @param {Map<string, unknown>} changed */
  updated(changed) {
    const { store, stage } = this;
    if (this.asked === this.#seen && !changed.has("stage")) return;
    this.asked = this.#seen;
    this.#work();
  }

  /** What the stage shows, by name. */
  get #seen() {
    return `${this.store.piece?.revision} ${this.stage.id}`;
  }

  /** Works out what the stage shows, unless that is there. */
  #work() {
    if (this.stage.needs) void this.store.work(this.stage.needs);
  }

  /** @param {string} light */
  #lit(light) {
    this.light = light;
    likeLight(light);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const typing = event.target instanceof HTMLInputElement && event.target.type !== "radio";
    if (!(event.ctrlKey || event.metaKey) || typing) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) void this.store.undo();
    else if (key === "y" || (key === "z" && event.shiftKey)) void this.store.redo();
    else return;
    event.preventDefault();
  }
}

/**
 * Whether what a stage needs is worked out.
 * @param {Store} store
 * @param {import("./server.js").Work} what
 */
function ready(store, what) {
  return { hoopings: store.division, proof: store.found, sheets: store.files }[what] !== null;
}

/** @param {import("./store.js").Busy} busy */
function progress(busy) {
  const head = WORKING[busy.what];
  return html`<h1>${head}</h1><p class="lead" aria-live="polite">${busy.told ? `${capital(busy.told)}…` : "This takes a few seconds."}</p>
    <progress class="progress" aria-label=${head} max="1"></progress>
    <p><button class="may" @click=${() => busy.stop.abort()}>Stop</button></p>`;
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
