/** The ledger of several chosen parts: aligned, spread, set in a row or a ring. */

import { html, nothing } from "../vendor/lit/index.js";
import { allOf, arrangementOf, boundsOf, freed, takenOff } from "../deeds.js";
import { align, fitting, inRing, inRow, spread } from "../reckon/arrange.js";
import { set, standsAt } from "../reckon/edits.js";
import { gapOf } from "../reckon/ledger.js";
import { readLength } from "../reckon/length.js";
import { blank } from "../sentences.js";
import { capital, listed, numberWord, whole } from "../words.js";
import { asking } from "./taking.js";

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../types.js").Element} Element */
/** @typedef {import("../reckon/arrange.js").Stand} Stand */
/** @typedef {import("../reckon/arrange.js").Way} Way */

/** @type {[Way, string][]} */
const ACROSS = [["left", "Left edges"], ["middle", "Middles"], ["right", "Right edges"], ["plumb", "Points"]];
/** @type {[Way, string][]} */
const LEVEL = [["top", "Upper edges"], ["level", "Middles"], ["bottom", "Lower edges"], ["points", "Points"]];
/** @type {[0 | 1, "gaps" | "middles", string][]} */
const SPREAD = [[0, "gaps", "Equal gaps across"], [0, "middles", "Middles evenly across"], [1, "gaps", "Equal gaps down"], [1, "middles", "Middles evenly down"]];

/** What was written for a row and a ring of these parts; null: what fits. */
const FITS = { spacing: /** @type {number | null} */ (null), direction: 0, radius: /** @type {number | null} */ (null), follow: true };
let asked = { of: "", ...FITS };

/** @param {Store} store */
export function ofSeveral(store) {
  const elements = store.chosenElements;
  const of = elements.map((e) => e.name).join();
  if (asked.of !== of) asked = { of, ...FITS };
  const movable = elements.filter((e) => standsAt(e));
  const fixed = elements.filter((e) => !standsAt(e));
  return html`<h1>${capital(numberWord(store.chosenParts.length))} parts</h1>
    <p class="soft">${capital(listed(store.chosenParts.map((p) => whole(p.name))))}.
      ${fixed.length ? html`<br>${capital(listed(fixed.map((e) => whole(e.name))))} ${fixed.length === 1 ? "stands" : "stand"} where what ${fixed.length === 1 ? "it leans" : "they lean"} on stands, and ${fixed.length === 1 ? "is" : "are"} not moved from here.` : nothing}
      ${elements.length === 1 ? html`<br>They are repeats of ${whole(elements[0].name)}, which moves as a whole until each is set free.` : nothing}</p>
    ${movable.length > 1 ? together(store, movable) : nothing}
    ${asking(store)}
    <div class="row">${elements.length === 1 && arrangementOf(elements[0]) ? html`<button class="may" @click=${() => free(store, elements[0])}>Set each free</button>` : nothing}
      <button class="may" @click=${() => takenOff(store, elements)}>Take ${elements.length === 1 ? allOf(store, elements[0]) : "them"} off</button>
      <button class="leaf" @click=${() => store.choose([])}>See the whole piece</button></div>`;
}

/**
 * Sets each free, and keeps those chosen that were.
 * @param {Store} store
 * @param {Element} element
 */
async function free(store, element) {
  const { chosen } = store;
  const wrong = await freed(store, element);
  if (wrong) store.refused(new Error(wrong), null);
  else store.choose(chosen);
}

/**
 * @param {Store} store
 * @param {Element[]} elements
 */
function together(store, elements) {
  const all = elements.map((e) => ({ name: e.name, at: standsAt(e) ?? /** @type {import("../types.js").Spot} */ ([0, 0]), bounds: boundsOf(store, e) }));
  /** @param {string} told @param {Stand[]} stands */
  const place = (told, stands) => store.change(`${told} ${elements.length > 2 ? `${elements.length} parts` : listed(elements.map((e) => e.name))}`,
    stands.flatMap(({ name, at, turn }) => [set(name, "at", at), ...(turn === undefined || !store.element(name)?.may.includes("turn") ? [] : [set(name, "turn", turn)])]));
  /** @param {string} heading @param {string} id @param {[string, () => unknown][]} ways */
  const group = (heading, id, ways) => html`<h2 id=${id}>${heading}</h2><div class="row" role="group" aria-labelledby=${id}>${ways.map(([told, go]) =>
    html`<button class="may" @click=${go}>${told}</button>`)}</div>`;
  return html`${group("In one line, one above the other", "align-across", ACROSS.map(([way, told]) => [told, () => place("aligning", align(all, way))]))}
    ${group("Level, side by side", "align-level", LEVEL.map(([way, told]) => [told, () => place("aligning", align(all, way))]))}
    ${all.length > 2 ? group("Spread evenly", "spread", SPREAD.map(([axis, by, told]) => [told, () => place("spreading", spread(all, axis, by))])) : nothing}
    ${rowAndRing(store, all, place)}`;
}

/**
 * @param {Store} store
 * @param {import("../reckon/arrange.js").Standing[]} all
 * @param {(told: string, stands: Stand[]) => unknown} place
 */
function rowAndRing(store, all, place) {
  const fits = fitting(all, store.units);
  const [spacing, radius] = [asked.spacing ?? fits.spacing, asked.radius ?? fits.radius];
  const told = "the chosen parts";
  /** @param {"spacing" | "direction" | "radius" | "follow"} word */
  const keep = (word) => async (/** @type {string} */ _, /** @type {unknown} */ value) => {
    const mm = typeof value === "string" ? readLength(value, store.units) : value;
    if (typeof mm === "number" && word !== "direction" && mm <= 0) return "It must be more than nothing.";
    Object.assign(asked, { [word]: mm });
    store.set({});
    return "";
  };
  return html`<h2>In a row or a ring</h2><div class="ruled">
      <p>In a row, ${blank(store, gapOf("spacing", "length", spacing), told, keep("spacing"))} from one to the next, running
        ${blank(store, gapOf("direction", "angle", asked.direction), told, keep("direction"))} from level.</p></div>
    <p><button class="may" @click=${() => place("setting in a row", inRow(all, spacing, asked.direction))}>Set them in a row</button></p>
    <div class="ruled"><p>In a ring of radius ${blank(store, gapOf("radius", "length", radius), told, keep("radius"), ".")} Each turned with the ring:
        ${blank(store, gapOf("follow", "yes/no", asked.follow), told, keep("follow"), ".")}</p></div>
    <p><button class="may" @click=${() => place("setting in a ring", inRing(all, radius, asked.follow))}>Set them in a ring</button></p>`;
}
