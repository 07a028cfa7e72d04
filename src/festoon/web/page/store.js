/** What the page knows and what it may do: one place, which every part of the page looks at. */

import { laidThread, readStitches } from "./reckon/stitches.js";
import * as server from "./server.js";
import { plainly } from "./words.js";

/** @typedef {import("./types.js").Edit} Edit */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("./types.js").Element} Element */
/** @typedef {{label: string, edits: Edit[]}} Change */
/** @typedef {{what: server.Work, told: string, stop: AbortController}} Busy */
/** @typedef {{sentence: string, status: number, change: Change | null}} Trouble */

/** Tells "change" after anything in it has changed. */
export class Store extends EventTarget {
  constructor() {
    super();
    /** @type {import("./types.js").Piece | null} */
    this.piece = null;
    /** @type {import("./reckon/stitches.js").Stitches | null} */
    this.stitches = null;
    /** @type {import("./reckon/stitches.js").Laid | null} */
    this.laid = null;
    /** The panel that the sheet shows, by name. */
    this.panel = "";
    /** @type {string[]} names of the chosen parts, the last chosen last */
    this.chosen = [];
    /** @type {string[]} names of elements that shall be taken off, though others lean on them */
    this.taking = [];
    /** @type {import("./picking.js").Picking | null} what is just being pointed out on the sheet */
    this.picking = null;
    /** @type {import("./types.js").Units} */
    this.units = "mm";
    /** @type {import("./types.js").Hoopings | null} */
    this.division = null;
    /** @type {import("./types.js").Hoopings | null} the last one, which may be of an older piece */
    this.dividedBefore = null;
    /** The number of the hooping that is looked at. */
    this.hooping = 1;
    /** @type {import("./types.js").Proof | null} */
    this.found = null;
    /** The finding that the sheet shows, or -1. */
    this.shown = -1;
    /** The meeting that is looked at, or -1. */
    this.meeting = -1;
    /** What the sheet shows in the proof. @type {"thickness" | "thread"} */
    this.seenAs = "thickness";
    /** Where the lens lies, mm; null while it is put away. @type {import("./types.js").Spot | null} */
    this.lens = null;
    /** @type {import("./types.js").Files | null} */
    this.files = null;
    /** The document whose pages are looked at, by its file's name. */
    this.document = "";
    /** @type {Busy | null} long work under way */
    this.busy = null;
    /** @type {Trouble | null} what could not be done, and why */
    this.trouble = null;
    /** What was done last, for those who listen. */
    this.said = "";
  }

  /** @param {Partial<Store>} news */
  set(news) {
    Object.assign(this, news);
    this.dispatchEvent(new Event("change"));
  }

  /** The parts on the panel that is shown. */
  get parts() {
    return this.piece?.parts.filter((part) => part.panel === this.panel) ?? [];
  }

  /** The panel that is shown. */
  get cloth() {
    return this.piece?.panels.find((panel) => panel.name === this.panel) ?? null;
  }

  /** @param {string} name */
  element(name) {
    return this.piece?.elements.find((element) => element.name === name) ?? null;
  }

  /** The chosen parts themselves, those of this panel. */
  get chosenParts() {
    return this.chosen.flatMap((name) => this.parts.find((part) => part.name === name) ?? []);
  }

  /** The elements of the chosen parts, each once. */
  get chosenElements() {
    return [...new Set(this.chosenParts.map((part) => part.element))].flatMap((name) => this.element(name) ?? []);
  }

  /** @param {string[]} names of parts */
  choose(names) {
    this.set({ chosen: names, taking: [] });
  }

  /** @param {string} said */
  say(said) {
    this.set({ said });
  }

  /** @param {number} number */
  look(number) {
    const panel = this.division?.hoopings.find((h) => h.record.number === number)?.record.panel ?? this.panel;
    this.set({ hooping: number, panel });
  }

  /** @param {number} index of a finding */
  show(index) {
    const where = this.found?.findings[index]?.where;
    this.set({ shown: index, panel: where?.panel || this.panel, said: where ? `The sheet shows ${where.told}.` : "" });
    this.dispatchEvent(new Event("show"));
  }

  /**
   * Takes in the piece as it stands.
   * @param {import("./types.js").Piece} [given] where it was just told
   */
  async load(given) {
    try {
      const piece = given ?? (await server.getPiece());
      if (piece) await this.#take(piece);
    } catch (error) {
      this.refused(error, null, (sentence) => sentence);
    }
  }

  /**
   * Lays another piece on the table, in place of the one that lies there. Gives whether it could be opened.
   * @param {string} key
   */
  async open(key) {
    server.turnTo(key);
    this.#stale();
    this.set({ piece: null, dividedBefore: null, stitches: null, laid: null, panel: "", chosen: [], taking: [], picking: null, hooping: 1, document: "", trouble: null });
    await this.load();
    return this.piece !== null;
  }

  /**
   * @param {import("./types.js").Piece} piece
   * @param {Partial<Store>} [kept] what was worked out and holds still
   */
  async #take(piece, kept = {}) {
    const stitches = readStitches(await server.getStitches(piece.revision));
    if (piece.revision !== this.piece?.revision) this.#stale();
    this.set({
      piece,
      stitches,
      laid: laidThread(stitches, piece.parts),
      units: piece.units,
      panel: piece.panels.some((p) => p.name === this.panel) ? this.panel : piece.panels[0]?.name ?? "",
      chosen: this.chosen.filter((name) => piece.parts.some((p) => p.name === name)),
      trouble: null,
      ...kept,
    });
  }

  /**
   * What is accepted changes nothing else: hoopings and proof are told anew, not worked out.
   * @param {Edit[]} edits just made
   * @returns {Promise<Partial<Store>>}
   */
  async #stillKnown(edits) {
    if (!edits.every((edit) => edit.do === "accept")) return {};
    const [division, found] = await Promise.all([server.getHoopings(), server.getProof()]).catch(() => [null, null]);
    return { division, found };
  }

  /** What was worked out for an older piece holds no longer. */
  #stale() {
    this.busy?.stop.abort();
    this.dividedBefore = this.division ?? this.dividedBefore;
    Object.assign(this, { division: null, found: null, files: null, shown: -1, meeting: -1 });
  }

  /**
   * Changes the piece. Gives whether that was done; where not, `trouble` tells why.
   * @param {string} label what undo will call it
   * @param {Edit[]} edits
   */
  async change(label, edits) {
    const refusal = await this.#changed(label, edits);
    if (refusal) this.refused(refusal, { label, edits });
    return refusal === null;
  }

  /**
   * The same for what is filled in at a place of its own: gives the sentence to stand there where it cannot be, "" where
   * it was done or something else stands in the way, which `trouble` tells.
   * @param {string} label
   * @param {Edit[]} edits
   */
  async attempt(label, edits) {
    const refusal = await this.#changed(label, edits);
    if (refusal instanceof server.Refusal && refusal.status === 422) return plainly(refusal.message);
    if (refusal) this.refused(refusal, { label, edits });
    return "";
  }

  /**
   * Changes wait for each other, so that each is made on the piece as the one before left it.
   * @param {string} label
   * @param {Edit[]} edits
   * @returns {Promise<unknown>} null where it was done
   */
  #changed(label, edits) {
    const done = this.#before.then(async () => {
      if (!this.piece) return new Error("No piece is open.");
      try {
        const piece = await server.change(this.piece.revision, label, edits);
        await this.#take(piece, await this.#stillKnown(edits));
        this.say(`Done: ${label}.`);
        return null;
      } catch (error) {
        return error;
      }
    });
    this.#before = done.catch(() => undefined);
    return done;
  }

  /** @type {Promise<unknown>} the change before */
  #before = Promise.resolve();

  /**
   * Units are the piece's own word, so that sheets and every sentence agree.
   * @param {import("./types.js").Units} units
   */
  async measure(units) {
    if (!this.piece) this.set({ units });
    else if (units !== this.units) {
      await this.change(units === "mm" ? "measuring in millimetres" : "measuring in inches", [{ do: "piece", table: "piece", word: "units", value: units }]);
    }
  }

  /** The same change once more, on the piece as it is now. @param {Change} change */
  async again(change) {
    await this.load();
    await this.change(change.label, change.edits);
  }

  async undo() {
    await this.#back(server.undo);
  }

  async redo() {
    await this.#back(server.redo);
  }

  /** @param {(revision: string) => Promise<import("./types.js").Piece>} way */
  async #back(way) {
    if (!this.piece) return;
    try {
      await this.#take(await way(this.piece.revision));
      this.say(this.piece.undo ? `Undo would now take back ${this.piece.undo}.` : "Nothing is left to undo.");
    } catch (error) {
      this.refused(error, null);
    }
  }

  /**
   * Works out hoopings, proof or sheets, unless that is there or under way.
   * @param {server.Work} what
   */
  async work(what) {
    const have = { hoopings: this.division, proof: this.found, sheets: this.files }[what];
    if (have || !this.piece || this.busy?.what === what) return;
    this.busy?.stop.abort();
    const busy = { what, told: "", stop: new AbortController() };
    this.set({ busy });
    try {
      await server.work(what, this.piece.revision, (told) => {
        if (this.busy?.stop === busy.stop) this.set({ busy: { ...busy, told } });
      }, busy.stop.signal);
      if (what === "hoopings") this.set({ division: await server.getHoopings() });
      else if (what === "proof") this.set({ found: await server.getProof() });
      else this.set({ files: await server.getFiles() });
    } catch (error) {
      if (!(error instanceof server.Stopped)) this.refused(error, null);
    }
    if (this.busy?.stop === busy.stop) this.set({ busy: null });
  }

  /**
   * Says what could not be done.
   * @param {unknown} error
   * @param {Change | null} change
   * @param {(sentence: string) => string} [read] how it is read here
   */
  refused(error, change, read = plainly) {
    const sentence = read(error instanceof Error ? error.message : String(error));
    this.set({ trouble: { sentence, status: error instanceof server.Refusal ? error.status : 0, change } });
  }
}
