import { html } from "./vendor/lit/index.js";
import "./blank.js";
import { set, standsAt } from "./reckon/edits.js";
import { runs } from "./reckon/ledger.js";
import { capital, whole } from "./words.js";

/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("./types.js").Gap} Gap */
/** @typedef {(word: string, value: unknown) => Promise<string>} Keep gives "", or why it cannot be */

/** @type {Record<string, string>} */
const DOING = { at: "moving", turn: "turning", mirror: "mirroring", name: "renaming" };

/**
 * An element's sentences with their blanks; what is filled in changes the piece.
 * @param {Store} store
 * @param {import("./types.js").Element} element
 */
export function sentences(store, element) {
  const keep = keeping(store, element);
  return html`<div class="ruled">${element.sentences.map((sentence) => filled(store, sentence, element.name, keep, standsAt(element)))}</div>`;
}

/**
 * One sentence with its blanks.
 * @param {Store} store
 * @param {import("./types.js").Sentence} sentence
 * @param {string} told whose it is
 * @param {Keep} keep
 * @param {import("./types.js").Spot | null} [spot] where it stands, if that is asked
 */
export function filled(store, sentence, told, keep, spot = null) {
  return html`<p>${runs(sentence).map(({ text, gap, tail }) => {
    if (!gap) return text;
    if (gap.kind === "several") return whole(gap.shown) + tail;
    return blank(store, gap, told, keep, tail, gap.word === "at" ? spot : null);
  })}</p>`;
}

/**
 * What keeps a word of an element.
 * @param {Store} store
 * @param {import("./types.js").Element} element
 * @returns {Keep}
 */
export function keeping(store, element) {
  const own = `${element.kind} "${element.name}": `.toLowerCase();
  return async (word, value) => {
    const wrong = await store.attempt(`${DOING[word] ?? `changing ${word.split(".").join(" ")} of`} ${element.name}`, [set(element.name, word, value)]);
    return wrong.toLowerCase().startsWith(own) ? capital(wrong.slice(own.length)) : wrong; // it stands at the element's own blank
  };
}

/**
 * One blank.
 * @param {Store} store
 * @param {Gap} gap
 * @param {string} told whose it is
 * @param {Keep} keep
 * @param {string} [tail] the stop or comma behind it
 * @param {import("./types.js").Spot | null} [spot]
 */
export function blank(store, gap, told, keep, tail = "", spot = null) {
  return html`<festoon-blank .gap=${gap} .spot=${spot} .keep=${keep} units=${store.units} told=${told} tail=${tail}></festoon-blank>`;
}
