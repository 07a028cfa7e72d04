import { html, nothing, svg } from "../vendor/lit/index.js";
import { PlainElement } from "../plain-element.js";
import { emptyEntry, entriesOf, finished, readingOf, stepNow } from "../reckon/bench.js";
import { seal, sealOf } from "../seal.js";
import * as server from "../server.js";
import { skein } from "../skein.js";
import { capital, lasting, listed, numberWord, plainly, whole } from "../words.js";
import { hoopPicture, locator } from "./hoop.js";
import { remember, remembered, save } from "./kept.js";
import { blankId, readings } from "./readings.js";
import { string } from "./string.js";

/** @typedef {import("../types.js").BenchHooping} BenchHooping */
/** @typedef {import("../types.js").BenchStep} BenchStep */
/** @typedef {import("../reckon/bench.js").Entry} Entry */

/** ms after the last letter until readings are judged (own choice). */
const PAUSE = 250;

/** What the button of each kind of step says that was done. @type {Record<BenchStep["kind"], string>} */
const DONE = {
  care: "I will take care",
  mark: "The crosses are marked",
  hoop: "It is hooped",
  thread: "The thread is on the needle",
  check: "The needle is on every cross",
  sew: "This thread is sewn",
  out: "It is out of the hoop",
};

/** How strongly a hooping's own stitching shows: on the cloth there is none before it is sewn. @param {BenchStep} step */
const strength = (step) => (step.kind === "sew" || step.kind === "out" ? 1 : 0.3);

/** One hooping at a time, beside the machine. */
export class FestoonBench extends PlainElement {
  static properties = {
    store: { attribute: false }, bench: { state: true }, looked: { state: true }, step: { state: true }, entries: { state: true }, verdict: { state: true },
    unjudged: { state: true }, corrected: { state: true }, advice: { state: true }, note: { state: true }, all: { state: true }, waiting: { state: true },
  };

  constructor() {
    super();
    /** @type {import("../store.js").Store} */
    this.store = /** @type {any} */ (null);
    /** @type {import("../types.js").Bench | null} */
    this.bench = null;
    /** The number of the hooping that is looked at. */
    this.looked = 1;
    /** The name of the step that is looked at; "" for the one that is to be done. */
    this.step = "";
    /** @type {Record<string, Entry>} readings as typed, by cross */
    this.entries = {};
    /** @type {import("../types.js").Judged | null} what they come to */
    this.verdict = null;
    /** Why they could not be judged. */
    this.unjudged = "";
    /** @type {import("../types.js").Corrected | null} the corrected file */
    this.corrected = null;
    /** How to hoop again. */
    this.advice = "";
    /** What could not be done, and why. */
    this.note = "";
    /** Whether all hoopings are shown. */
    this.all = false;
    /** Whether an answer is waited for. */
    this.waiting = false;
    this.asked = "";
    this.pause = 0;
    this.changed = () => void this.#follow();
    this.seen = () => {
      if (document.visibilityState === "visible" && this.bench) void this.#load();
    };
  }

  connectedCallback() {
    super.connectedCallback();
    this.store.addEventListener("change", this.changed);
    document.addEventListener("visibilitychange", this.seen);
    void this.#follow();
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    this.store.removeEventListener("change", this.changed);
    document.removeEventListener("visibilitychange", this.seen);
    clearTimeout(this.pause);
  }

  /** Takes in the hoopings once they are made ready, and anew when the piece has changed. */
  async #follow() {
    this.requestUpdate();
    const { files, piece } = this.store;
    if (!files || !piece || this.asked === piece.revision) return;
    this.asked = piece.revision;
    await this.#load();
  }

  async #load() {
    try {
      const first = this.bench?.revision;
      this.#take(await server.getBench());
      if (first !== this.bench?.revision) this.#look(this.bench?.hooping ?? 1);
    } catch (error) {
      await this.#refused(error);
    }
  }

  /** @param {import("../types.js").Bench} bench */
  #take(bench) {
    this.bench = bench;
  }

  /** @type {BenchHooping | null} */
  get hooping() {
    return this.bench?.hoopings.find((h) => h.number === this.looked) ?? null;
  }

  /** The step that is looked at. */
  get now() {
    const steps = this.hooping?.steps ?? [];
    return steps.find((s) => s.name === this.step) ?? stepNow(steps);
  }

  /** Whether the needle check of this hooping is done: only then does what was read of it still hold. */
  get checked() {
    return Boolean(this.hooping?.steps.find((s) => s.kind === "check")?.done);
  }

  get crosses() {
    return this.hooping?.crosses.map((c) => c.name) ?? [];
  }

  get reading() {
    return readingOf(this.crosses, this.entries, this.store.units);
  }

  /** Goes to a hooping. @param {number} number */
  #look(number) {
    const kept = remembered(number, this.bench?.revision ?? "");
    this.looked = number;
    Object.assign(this, { step: "", all: false, verdict: null, unjudged: "", corrected: null, advice: "" });
    const before = this.checked ? this.hooping?.trued?.readings : null;
    this.entries = kept ?? (before ? entriesOf(before, this.store.units) : {});
    void this.#judge();
  }

  /** @param {string} name of a step of this hooping */
  #turnTo(name) {
    this.step = name;
    this.note = "";
    void this.updateComplete.then(() => this.querySelector(".now")?.scrollIntoView({ block: "start" }));
  }

  /**
   * @param {string[]} steps
   * @param {boolean} done
   */
  async #tick(steps, done) {
    const { bench, hooping } = this;
    if (!bench || !hooping || this.waiting) return;
    this.waiting = true;
    try {
      this.#take(await server.tickSteps(bench, hooping.number, steps, done));
      this.note = "";
      this.step = "";
      if (done) this.advice = "";
      const onward = done && this.hooping && finished(this.hooping);
      if (onward && this.bench) this.#look(this.bench.hooping);
      this.store.say(`${done ? "Done." : "Not done."} Now: ${this.now?.do ?? ""}`);
      await this.updateComplete;
      const now = this.querySelector("#now");
      if (now instanceof HTMLElement) now.focus({ preventScroll: true });
      window.scrollTo({ top: 0 });
    } catch (error) {
      await this.#refused(error);
    }
    this.waiting = false;
  }

  /**
   * @param {string} cross
   * @param {Partial<Entry>} news
   */
  #fill(cross, news) {
    this.entries = { ...this.entries, [cross]: { ...(this.entries[cross] ?? emptyEntry()), ...news } };
    remember(this.looked, this.bench?.revision ?? "", this.entries);
    this.corrected = null;
    clearTimeout(this.pause);
    this.pause = window.setTimeout(() => void this.#judge(), PAUSE);
  }

  /** What the readings come to, once they are whole; an answer to older ones is not shown. */
  async #judge() {
    const { bench, hooping, entries } = this;
    const { readings: read, missing, wrong } = this.reading;
    if (missing || wrong.length || !bench || !hooping) {
      Object.assign(this, { verdict: null, unjudged: "" });
      return;
    }
    try {
      const verdict = await server.judgeReadings(bench, hooping.number, read);
      if (entries === this.entries) Object.assign(this, { verdict, unjudged: "" });
    } catch (error) {
      if (entries !== this.entries) return;
      if (error instanceof server.Refusal && error.status === 422) Object.assign(this, { verdict: null, unjudged: plainly(error.message) });
      else await this.#refused(error);
    }
  }

  async #true() {
    const { bench, hooping } = this;
    if (!bench || !hooping || this.waiting) return;
    this.waiting = true;
    this.note = "";
    try {
      const corrected = await server.trueHooping(bench, hooping.number, this.reading.readings);
      Object.assign(this, { corrected, verdict: corrected });
      this.#take(await server.getBench());
      if (corrected.file) save(hooping.number, corrected.file);
      this.store.say(corrected.told.at(-1) ?? "");
    } catch (error) {
      await this.#refused(error);
    }
    this.waiting = false;
  }

  /** The cloth is taken out and hooped again: what was read of it holds no longer. */
  async #again() {
    this.entries = {};
    remember(this.looked, this.bench?.revision ?? "", {});
    Object.assign(this, { advice: this.verdict?.short ?? "", verdict: null, corrected: null });
    await this.#tick(["hoop", "check"], false);
  }

  /** Says what could not be done, and shows things as they are now. @param {unknown} error */
  async #refused(error) {
    const status = error instanceof server.Refusal ? error.status : 0;
    this.note = error instanceof Error ? plainly(error.message) : String(error);
    const { store } = this;
    if (status === 404) {
      this.asked = "";
      store.set({ files: null });
      await store.work("sheets");
    } else if (status === 409) {
      const before = store.piece?.revision;
      await store.load();
      if (store.piece?.revision === before) this.#take(await server.getBench());
    }
  }

  render() {
    const { bench, hooping, store } = this;
    if (bench && !bench.hoopings.length) return html`<section class="now"><h2>There is nothing to sew yet.</h2><p class="lead"><a href="#lay-out">Lay something on the cloth</a> first.</p></section>`;
    if (!store.files || !bench || !hooping || bench.revision !== store.piece?.revision) return this.#notReady();
    return this.all ? this.#whole(bench) : this.#one(bench, hooping);
  }

  #notReady() {
    const { busy, files } = this.store;
    return html`<section class="now"><h2 tabindex="-1" id="now">Getting the hoopings ready for the machine</h2>
      ${busy ? html`<p class="lead" aria-live="polite">${busy.told || "This takes a few seconds."}</p><progress class="progress" aria-label="Getting ready" max="1"></progress>
        <p><button class="may" @click=${() => busy.stop.abort()}>Stop</button></p>`
      : files && !this.note ? nothing : html`<p class="lead">${this.note}</p><p><button class="do" @click=${() => this.store.work("sheets")}>Get them ready</button></p>`}</section>`;
  }

  /**
   * @param {import("../types.js").Bench} bench
   * @param {BenchHooping} hooping
   */
  #one(bench, hooping) {
    const { now } = this;
    const at = hooping.steps.indexOf(now);
    const several = new Set(bench.hoopings.map((h) => h.panel)).size > 1;
    return html`${this.#which(bench, hooping)}
      ${this.#notes(bench, hooping)}
      <section class="now ${now.kind}" aria-labelledby="now">
        <p class="step"><span class="word">${now.done ? "This is done" : "What to do now"}</span> <span>step ${at + 1} of ${hooping.steps.length}</span></p>
        <h2 id="now" tabindex="-1">${now.do}${/[.?!]$/.test(now.do) ? "" : "."}</h2>
        <div class="how">${this.#picture(bench, hooping, now)}<div class="words">${this.#told(hooping, now)}</div></div>
      </section>
      <section class="turns"><h2>Every step</h2><p class="soft">${capital(whole(hooping.holds))}${several ? `, on ${hooping.panel}` : ""}. ${hooping.reason} ${hooping.expected}</p>
        <ol class="steps">${hooping.steps.map((step) => this.#row(step, step === now))}</ol></section>
      ${this.#atHand(hooping, now)}`;
  }

  /**
   * @param {import("../types.js").Bench} bench
   * @param {BenchHooping} hooping
   */
  #which(bench, hooping) {
    const count = bench.hoopings.length;
    const way = (/** @type {number} */ number, /** @type {string} */ text) => (number >= 1 && number <= count
      ? html`<button class="may" aria-label="Hooping ${number}" @click=${() => this.#look(number)}>${text}</button>` : html`<span></span>`);
    return html`<div class="which">${way(hooping.number - 1, `‹ ${hooping.number - 1}`)}<h1>Hooping ${hooping.number} <span>of ${numberWord(count)}</span></h1>${way(hooping.number + 1, `${hooping.number + 1} ›`)}</div>
      ${string(bench, hooping.number)}
      <p class="left-over"><span>About ${lasting(hooping.minutes_left)} left here, <span class="nu">${lasting(bench.minutes_left)} in all.</span></span>
        <button class="leaf" @click=${() => { this.all = true; }}>All hoopings</button></p>`;
  }

  /**
   * @param {import("../types.js").Bench} bench
   * @param {BenchHooping} hooping
   */
  #notes(bench, hooping) {
    const told = [hooping.note, ...bench.lost].filter(Boolean);
    return html`${this.note ? html`<div class="caution" role="alert">${seal("look again")}<p>${this.note}</p></div>` : nothing}
      ${told.map((sentence) => html`<div class="caution">${seal("look again")}<p>${sentence}</p></div>`)}
      ${bench.refused.length ? html`<div class="verdict wont">${seal("will not work")}<p><b>The proof says that this will not work.</b> ${bench.refused[0]} See the stage Proof before you sew.</p></div>` : nothing}`;
  }

  /**
   * @param {import("../types.js").Bench} bench
   * @param {BenchHooping} hooping
   * @param {BenchStep} now
   */
  #picture(bench, hooping, now) {
    if (now.kind === "care" || now.kind === "thread") return nothing;
    const checked = now.kind === "check";
    return html`<div class="pictures">${hoopPicture(hooping, bench.revision, { sewing: strength(now), checked, readings: checked ? this.reading.readings : {} })}
      ${now.kind === "mark" || now.kind === "hoop" ? locator(this.store, hooping)
        : checked && this.reading.begun ? html`<p class="soft small">The ring is the needle. How far off a cross lies is drawn up to six times as large.</p>` : nothing}</div>`;
  }

  /**
   * @param {BenchHooping} hooping
   * @param {BenchStep} now
   */
  #told(hooping, now) {
    if (now.kind === "care") return now.cautions.map((c) => html`<div class="caution">${seal("look again")}<p>${led(c.text)} <span class="soft">(${c.source})</span></p></div>`);
    const list = sentences(now.told);
    if (now.kind === "hoop" && this.advice) return html`<div class="caution">${seal("look again")}<p>${this.advice}</p></div>${list}`;
    if (now.kind === "check") return html`${sentences(now.told.slice(0, 1))}${this.#check(hooping, now)}`;
    if (now.kind === "thread" || now.kind === "sew") return html`${now.thread ? html`<p class="fit">${skein(now.thread.colour)}<b>${now.thread.name}</b></p>` : nothing}${list}${now.kind === "sew" && hooping.trued ? html`<p class="which-file">From <b>${whole(hooping.trued.file)}</b>, unless the cloth was hooped again since.</p>` : nothing}`;
    return list;
  }

  /**
   * @param {BenchHooping} hooping
   * @param {BenchStep} now
   */
  #check(hooping, now) {
    const { verdict, corrected, unjudged } = this;
    const { wrong } = this.reading;
    const ready = corrected?.file ?? (this.checked ? hooping.trued?.file : null);
    return html`${readings(this.crosses, this.entries, this.store.units, wrong, (cross, news) => this.#fill(cross, news))}
      ${this.reading.begun ? nothing : sentences(now.told.slice(1))}
      <div aria-live="polite">${unjudged ? html`<div class="verdict wont">${seal("will not work")}<p>${unjudged}</p></div>` : nothing}
      ${verdict ? html`<div class="verdict ${sealOf(verdict.judged)}">${seal(verdict.judged)}<div><p><b>${capital(verdict.verdict)}.</b></p>${(corrected?.told ?? verdict.told).map((t) => html`<p>${t}</p>`)}
        ${corrected?.made ? html`<p class="soft">${corrected.made}</p>` : nothing}</div></div>` : nothing}</div>
      ${ready ? html`<a class="may wide" href=${server.correctedAddress(hooping.number)} download=${ready}>Save ${whole(ready)} again</a>` : nothing}
      ${now.done || this.reading.begun ? nothing : html`<button class="may wide" @click=${() => this.#tick([now.name], true)}>${DONE.check}</button>`}`;
  }

  /**
   * @param {BenchStep} step
   * @param {boolean} here
   */
  #row(step, here) {
    return html`<li><button class="step-row" aria-current=${here ? "step" : nothing} @click=${() => this.#turnTo(step.name)}>${box(step.done)}
      <span>${step.thread ? html`<i class="dot" .style=${`--t:${step.thread.colour}`}></i>` : nothing}${step.do}<span class="vh">${step.done ? ", done" : ""}</span></span>
      ${step.minutes ? html`<span class="soft nu">${Math.ceil(step.minutes)} min</span>` : nothing}</button></li>`;
  }

  /**
   * What lies at the thumb: the gist, and the one thing to do.
   * @param {BenchHooping} hooping
   * @param {BenchStep} now
   */
  #atHand(hooping, now) {
    const gist = this.corrected?.file && now.kind === "check" ? html`<p class="short">${seal("sound")}<span>Load <b>${whole(this.corrected.file)}</b>, and look at the needle over each cross once more.</span></p>`
      : now.kind === "check" && this.verdict ? html`<p class="short">${seal(this.verdict.judged)}<span><b class="word ${sealOf(this.verdict.judged)}">${capital(this.verdict.verdict)}.</b> ${this.verdict.short}</span></p>` : nothing;
    return html`<div class="at-hand">${gist}${this.#button(hooping, now)}</div>`;
  }

  /**
   * @param {BenchHooping} hooping
   * @param {BenchStep} now
   */
  #button(hooping, now) {
    const button = (/** @type {string} */ text, /** @type {() => void} */ go, wanting = false) => html`<button class="do ${wanting ? "wanting" : ""}" aria-busy=${this.waiting ? "true" : "false"} @click=${go}>${text}</button>`;
    if (now.done) {
      const next = hooping.steps.find((s) => !s.done);
      const back = html`<button class="may" @click=${() => this.#tick([now.name], false)}>Not done after all</button>`;
      if (next) return html`<div class="two">${back}${button("Go on", () => this.#turnTo(""))}</div>`;
      const onward = this.bench?.hoopings.find((h) => !finished(h));
      return html`<div class="two">${back}${onward ? button(`To hooping ${onward.number}`, () => this.#look(onward.number)) : html`<span class="all-done">All is sewn.</span>`}</div>`;
    }
    if (now.kind !== "check") return button(DONE[now.kind], () => this.#tick([now.name], true));
    const { missing, wrong } = this.reading;
    const lacking = wrong[0] ?? missing;
    if (this.corrected?.file) return button("It is loaded, the needle is right", () => this.#tick([now.name], true));
    if (lacking) return button(lacking.told, () => document.getElementById(blankId(lacking.cross, lacking.blank))?.focus(), true);
    if (this.verdict && !this.verdict.usable) {
      return this.verdict.verdict === "hoop again" ? button("Hoop it again", () => this.#again())
        : button("Read the crosses again", () => document.getElementById(blankId(this.crosses[0], "across"))?.focus());
    }
    return button(this.waiting ? "Working it out" : "Get the corrected file", () => this.#true());
  }

  /** @param {import("../types.js").Bench} bench */
  #whole(bench) {
    const done = bench.hoopings.filter(finished).length;
    return html`<div class="which"><span></span><h1>All hoopings</h1><span></span></div>${this.#notes(bench, /** @type {BenchHooping} */ (this.hooping))}
      <section class="now"><h2 id="now" tabindex="-1">${done ? `${capital(numberWord(done))} of ${numberWord(bench.hoopings.length)} done` : `${capital(numberWord(bench.hoopings.length))} to sew`}, about ${lasting(bench.minutes_left)} left.</h2>
      <ol class="steps">${bench.hoopings.map((h) => html`<li><button class="step-row" @click=${() => this.#look(h.number)} aria-current=${h.number === bench.hooping ? "step" : nothing}>${box(finished(h) ? "yes" : null)}
        <span><b>Hooping ${h.number}</b>, ${whole(listed([h.holds]))}<br><span class="soft">${finished(h) ? "Done." : `Now: ${stepNow(h.steps).do}${/[.?!]$/.test(stepNow(h.steps).do) ? "" : "."}`}</span></span>
        <span class="soft nu">${finished(h) ? "" : `${Math.ceil(h.minutes_left)} min`}</span></button></li>`)}</ol></section>
      <div class="at-hand"><button class="do" @click=${() => this.#look(bench.hooping)}>To hooping ${bench.hooping}</button></div>`;
  }
}

/** @param {string[]} told */
const sentences = (told) => html`<ul class="told">${told.map((sentence) => html`<li>${sentence}</li>`)}</ul>`;

/** A box, ticked or not. @param {string | null} done */
function box(done) {
  return html`<svg class="tick-box" viewBox="-15 -15 30 30" aria-hidden="true"><rect x="-11" y="-11" width="22" height="22" rx="3"></rect>${done ? svg`<path d="M-6 .5-1.5 5 7-5"></path>` : nothing}</svg>`;
}

/** What a caution is about, strong. @param {string} text */
function led(text) {
  const colon = text.indexOf(":") + 1;
  return html`<b>${text.slice(0, colon)}</b>${text.slice(colon)}`;
}

customElements.define("festoon-bench", FestoonBench);
