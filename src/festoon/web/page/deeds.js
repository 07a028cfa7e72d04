/** What may be done to the chosen elements, the same by a button and by a key: each is one change, which undo takes back. */

import { around, begun } from "./reckon/arrange.js";
import { set, standsAt, TURN, withinTurn } from "./reckon/edits.js";
import { whole } from "./words.js";

/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("./types.js").Element} Element */
/** @typedef {import("./types.js").Edit} Edit */
/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {"row" | "ring" | "pair" | "along"} Arrangement */

/** @type {Arrangement[]} */
export const ARRANGEMENTS = ["row", "ring", "pair", "along"];
/** mm from the old to the copy, besides its size (own choice). */
const BESIDE = 2;

/**
 * How it is set out; "on" is in the places of another element, which is begun from the drawer.
 * @param {Element} element @returns {Arrangement | "on" | null}
 */
export const arrangementOf = (element) => [...ARRANGEMENTS, /** @type {const} */ ("on")].find((word) => element.words[word] !== undefined) ?? null;

/**
 * Turns an element by so many degrees clockwise.
 * @param {Store} store
 * @param {Element} element
 * @param {number} [by]
 */
export async function turned(store, element, by = TURN) {
  if (!element.may.includes("turn")) return;
  await store.change(`turning ${element.name}`, [set(element.name, "turn", withinTurn(wordNumber(element, "turn") + by))]);
}

/**
 * Turns it over: left becomes right.
 * @param {Store} store
 * @param {Element} element
 */
export async function mirrored(store, element) {
  if (!element.may.includes("mirror")) return;
  await store.change(`turning ${element.name} over`, [set(element.name, "mirror", element.words.mirror ? null : true)]);
}

/**
 * Lays another like it beside it, on whichever side the cloth has room, and chooses that.
 * @param {Store} store
 * @param {Element} element
 */
export async function copied(store, element) {
  const at = standsAt(element);
  if (!at || !store.cloth || !store.piece) return;
  const known = new Set(store.piece.elements.map(({ name }) => name));
  const by = beside(boundsOf(store, element), store.cloth.size);
  if (!(await store.change(`setting another ${element.name}`, [{ do: "copy", element: element.name, by }]))) return;
  const made = store.piece.elements.find(({ name }) => !known.has(name));
  if (made) chooseElement(store, made.name);
}

/**
 * Lays it lower or higher among what lies on the same panel.
 * @param {Store} store
 * @param {Element} element
 * @param {1 | -1} by
 */
export async function laid(store, element, by) {
  const next = neighbour(store, element, by);
  if (!next || !store.piece) return;
  const to = store.piece.elements.indexOf(next);
  await store.change(`laying ${element.name} ${by > 0 ? "higher" : "lower"}`, [{ do: "order", element: element.name, to }]);
}

/**
 * What lies next below or above it on its panel.
 * @param {Store} store
 * @param {Element} element
 * @param {1 | -1} by
 */
export function neighbour(store, element, by) {
  const here = (store.piece?.elements ?? []).filter(({ panel }) => panel === element.panel);
  return here[here.findIndex(({ name }) => name === element.name) + by] ?? null;
}

/**
 * Takes elements off; where others lean on them, asks first whether those shall go, too.
 * @param {Store} store
 * @param {Element[]} elements
 */
export async function takenOff(store, elements) {
  const names = elements.map(({ name }) => name);
  if (leaning(store, names).length) store.set({ taking: names });
  else await offWith(store, names);
}

/**
 * Takes these off, without asking.
 * @param {Store} store
 * @param {string[]} names
 */
export async function offWith(store, names) {
  const told = names.length > 2 ? `${names.length} parts` : names.join(" and ");
  store.set({ taking: [] });
  await store.change(`taking off ${told}`, names.map((element) => ({ do: "remove", element })));
  if (document.activeElement === document.body) /** @type {HTMLElement | null} */ (document.querySelector(".tissue"))?.focus(); // its button went, too
}

/**
 * The names of all that lean on these and are not among them.
 * @param {Store} store
 * @param {string[]} names
 */
export function leaning(store, names) {
  const gone = new Set(names);
  const elements = store.piece?.elements ?? [];
  const falls = (/** @type {Element} */ e) => !gone.has(e.name) && e.needs.some((need) => gone.has(elementOf(store, need)));
  for (let more = elements.filter(falls); more.length; more = elements.filter(falls)) more.forEach(({ name }) => gone.add(name));
  return [...gone].filter((name) => !names.includes(name));
}

/** The element that has a part of this name. @param {Store} store @param {string} name */
const elementOf = (store, name) => store.piece?.parts.find((part) => part.name === name)?.element ?? name;

/**
 * Sets it in an arrangement, or by itself again where that is null. Gives "", or why that cannot be.
 * @param {Store} store
 * @param {Element} element
 * @param {Arrangement | null} word
 */
export async function arranged(store, element, word) {
  const part = store.piece?.parts.find((p) => p.element === element.name);
  if (!part || !store.cloth) return "";
  const now = arrangementOf(element);
  const one = { name: part.name, at: part.at ?? /** @type {Spot} */ ([0, 0]), bounds: part.bounds };
  const at = standsAt(element) ?? /** @type {Spot} */ ([store.cloth.size[0] / 2, store.cloth.size[1] / 2]);
  /** @type {Edit[]} */
  const edits = now && now !== word ? [set(element.name, now, null)] : [];
  if (word) edits.push(set(element.name, word, begun(word, one, at, store.cloth.size, Object.keys(store.cloth.lines)[0] ?? "", store.units)));
  if (word === "along" && element.words.at !== undefined) edits.push(set(element.name, "at", null));
  const told = word ? `setting ${element.name} ${{ row: "in a row", ring: "in a ring", pair: "as a pair", along: "along a line" }[word]}` : `setting ${element.name} singly`;
  const wrong = await store.attempt(told, edits);
  if (!wrong) chooseElement(store, element.name);
  return wrong;
}

/**
 * Makes an arranged element into single ones at the same places. Gives "", or why that cannot be.
 * @param {Store} store
 * @param {Element} element
 */
export async function freed(store, element) {
  const parts = (store.piece?.parts ?? []).filter((p) => p.element === element.name).map((p) => p.name);
  const wrong = await store.attempt(`setting each ${element.name} free`, [{ do: "free", element: element.name }]);
  if (!wrong) store.choose(parts);
  return wrong;
}

/** @param {Store} store @param {string} name */
export function chooseElement(store, name) {
  const part = store.piece?.parts.find((p) => p.element === name);
  if (part) store.choose([part.name]);
}

/** @param {Store} store @param {Element} element */
export function boundsOf(store, element) {
  return around((store.piece?.parts ?? []).filter((p) => p.element === element.name).map((p) => p.bounds));
}

/**
 * What a word of an element holds now, as the sentences have it.
 * @param {Element} element
 * @param {string} word
 */
function wordNumber(element, word) {
  const value = element.sentences.flatMap((s) => s.gaps).find((g) => g.word === word)?.value;
  return typeof value === "number" ? value : 0;
}

/**
 * How far a copy goes: right, left, down or up by its own size, or so far as there is room.
 * @param {import("./types.js").Bounds} bounds
 * @param {Spot} cloth
 * @returns {Spot}
 */
function beside([left, top, right, bottom], cloth) {
  const [w, h] = [right - left + BESIDE, bottom - top + BESIDE].map((v) => Math.ceil(v));
  const room = { right: cloth[0] - right, left, down: cloth[1] - bottom, up: top };
  if (room.right >= w) return [w, 0];
  if (room.left >= w) return [-w, 0];
  if (room.down >= h) return [0, h];
  if (room.up >= h) return [0, -h];
  return [Math.floor(Math.min(room.right, BESIDE)), Math.floor(Math.min(room.down, BESIDE))];
}

/** "all nine of sprig", or "sprig". @param {Store} store @param {Element} element */
export function allOf(store, element) {
  const count = (store.piece?.parts ?? []).filter((p) => p.element === element.name).length;
  return count > 1 ? `all ${count} of ${whole(element.name)}` : whole(element.name);
}
