/** Stitch files of the worker's own brought into the piece: chosen, or dropped anywhere on the page. */

import { html, nothing } from "./vendor/lit/index.js";
import { PlainElement } from "./plain-element.js";
import { laying } from "./reckon/bring-in.js";
import { toCloth } from "./reckon/view.js";
import * as server from "./server.js";
import { listed, plainly } from "./words.js";

/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("./types.js").Spot} Spot */

/** Bytes of a file that the server takes. */
const MOST_BYTES = 20_000_000;
/** What `store` tells of files dropped where they are only collected; detail: the files. */
export const FILES = "files";

/**
 * Brings stitch files into the piece and lays their motifs on the cloth as one change; what cannot be read is told in the
 * store's trouble, and the others come in all the same. Gives whether anything was laid.
 * @param {Store} store
 * @param {Iterable<File>} files
 * @param {Spot | null} [at] where the first shall stand, mm on the panel that is shown; without it the middle
 */
export async function bringIn(store, files, at = null) {
  const all = [...files];
  if (!all.length || !store.piece) return false;
  store.say(`Bringing in ${listed(all.map(({ name }) => name))}.`);
  /** @type {string[]} */
  const held = [];
  /** @type {string[]} */
  const wrong = [];
  for (const file of all) {
    try {
      held.push(await sent(file));
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      wrong.push(`Not brought in: ${file.name}. ${plainly(why.replace(`${file.name}: `, ""))}`);
    }
  }
  const laid = held.length > 0 && (await lay(store, held, at));
  if (wrong.length) store.refused(new Error([store.trouble?.sentence, ...wrong].filter(Boolean).join(" ")), null);
  return laid;
}

/**
 * Lays stitch files of the piece's folder on the cloth as one change, and chooses them.
 * @param {Store} store
 * @param {string[]} files
 * @param {Spot | null} at
 */
async function lay(store, files, at) {
  const { piece, panel } = store;
  if (!piece) return false;
  try {
    const known = await server.getMotifs();
    const motifs = files.flatMap((file) => known.find((motif) => motif.file === file) ?? []);
    const edits = laying(motifs, piece, panel, at);
    const names = edits.flatMap((edit) => (edit.do === "add" ? [String(edit.element.name)] : []));
    if (!(await store.change(`bringing in ${names.length > 2 ? `${names.length} motifs` : listed(names)}`, edits))) return false;
    store.choose(names);
    return true;
  } catch (error) {
    store.refused(error, null);
    return false;
  }
}

/** @param {File} file */
async function sent(file) {
  if (file.size > MOST_BYTES) throw new Error(`It is larger than any stitch file, ${MOST_BYTES / 1e6} MB at most.`);
  const data = await file.arrayBuffer().catch(() => {
    throw new Error("It cannot be read. If it is a folder, bring in the files in it.");
  });
  return server.sendMotif(file.name, data);
}

/** What waits for files to be let go over the page, and says so while they are held there. */
export class FestoonFiles extends PlainElement {
  static properties = { store: { attribute: false }, stage: { attribute: false }, held: { state: true } };

  constructor() {
    super();
    /** @type {Store} */
    this.store;
    /** @type {import("./stages/stage.js").Stage} */
    this.stage;
    this.held = false;
  }

  connectedCallback() {
    super.connectedCallback();
    window.addEventListener("dragover", this.#over);
    window.addEventListener("dragleave", this.#left);
    window.addEventListener("drop", this.#dropped);
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    window.removeEventListener("dragover", this.#over);
    window.removeEventListener("dragleave", this.#left);
    window.removeEventListener("drop", this.#dropped);
  }

  render() {
    return this.held ? html`<p class="held-files">Let go, and your motifs are brought in.</p>` : nothing;
  }

  /** @param {DragEvent} event */
  #over = (event) => {
    if (!event.dataTransfer?.types.includes("Files")) return;
    event.preventDefault();
    event.dataTransfer.dropEffect = "copy";
    this.held = true;
  };

  /** @param {DragEvent} event */
  #left = (event) => {
    if (event.relatedTarget === null) this.held = false;
  };

  /** @param {DragEvent} event */
  #dropped = (event) => {
    this.held = false;
    const files = [...(event.dataTransfer?.files ?? [])];
    if (!files.length) return;
    event.preventDefault();
    if (this.stage.id === "start") this.store.dispatchEvent(new CustomEvent(FILES, { detail: files }));
    else {
      const at = this.stage.id === "lay-out" ? this.#place(event) : null;
      location.hash = "lay-out";
      void bringIn(this.store, files, at);
    }
  };

  /**
   * Where on the cloth they were let go; null beside it.
   * @param {DragEvent} event
   * @returns {Spot | null}
   */
  #place(event) {
    const sheet = /** @type {import("./sheet.js").FestoonSheet | null} */ (document.querySelector("festoon-sheet"));
    const box = sheet?.querySelector(".tissue")?.getBoundingClientRect();
    const size = this.store.cloth?.size;
    if (!sheet || !box || !size) return null;
    const at = toCloth(sheet.view, [event.clientX - box.left, event.clientY - box.top]);
    return at.every((value, i) => value >= 0 && value <= size[i]) ? at : null;
  }
}
customElements.define("festoon-files", FestoonFiles);
