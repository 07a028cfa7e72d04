/** The ledger of one chosen part: what holds for its element, and what may be done with that. */

import { html, nothing } from "../vendor/lit/index.js";
import { allOf, ARRANGEMENTS, arranged, arrangementOf, copied, freed, laid, mirrored, neighbour, takenOff, turned } from "../deeds.js";
import { TURN } from "../reckon/edits.js";
import { gapOf } from "../reckon/ledger.js";
import { showLength } from "../reckon/length.js";
import { stitchCount } from "../reckon/stitches.js";
import { blank, keeping, sentences } from "../sentences.js";
import { skein } from "../skein.js";
import { capital, counted, whole } from "../words.js";
import { asking } from "./taking.js";

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../types.js").Element} Element */

const SET_OUT = { row: "Set it in a row", ring: "Set it in a ring", pair: "Mirrored pair", along: "Along a line" };

/**
 * @param {Store} store
 * @param {import("../types.js").Part} part
 */
export function ofPart(store, part) {
  const { piece, parts, units } = store;
  const element = store.element(part.element);
  if (!piece || !element) return nothing;
  const index = parts.indexOf(part);
  const [before, after] = [parts[index - 1], parts[index + 1]];
  const siblings = parts.filter((p) => p.element === element.name).length;
  const stitches = store.stitches ? stitchCount(store.stitches, part) : 0;
  const size = [part.bounds[2] - part.bounds[0], part.bounds[3] - part.bounds[1]].map((mm) => showLength(mm, units));
  return html`<nav class="leaf-through" aria-label="Other parts">
      ${before ? html`<button class="leaf" @click=${() => store.choose([before.name])}>‹ ${whole(before.name)}</button>` : html`<span></span>`}
      ${after ? html`<button class="leaf" @click=${() => store.choose([after.name])}>${whole(after.name)} ›</button>` : nothing}</nav>
    <h1>${whole(capital(part.name))}</h1>
    <p class="soft">${capital(element.told)}, ${size[0]} by ${size[1]}, ${counted(stitches)} stitches.
      ${siblings > 1 ? html`<br>What is written here holds for all ${siblings} of ${whole(element.name)}.` : nothing}</p>
    ${called(store, element)}
    ${sentences(store, element)}
    <ul class="skeins" aria-label="Its threads">${part.threads.map((t) => html`<li>${skein(t.colour)}${t.name}</li>`)}</ul>
    ${asking(store)}
    ${deeds(store, element)}
    ${arrangements(store, element)}
    <p class="of-piece"><button class="leaf" @click=${() => store.choose([])}>See the whole piece</button></p>`;
}

/**
 * Its name, and its panel where there are several.
 * @param {Store} store
 * @param {Element} element
 */
function called(store, element) {
  const panels = store.piece?.panels.map((p) => p.name) ?? [];
  const keep = keeping(store, element);
  const renamed = async (/** @type {string} */ word, /** @type {unknown} */ value) => {
    const part = store.chosen.at(-1) ?? "";
    const wrong = await keep(word, value);
    if (!wrong) store.choose([String(value) + part.slice(element.name.length)]);
    return wrong;
  };
  return html`<div class="ruled called"><p>It is called ${blank(store, gapOf("name", "words", element.name), element.name, renamed, panels.length > 1 ? "" : ".")}${panels.length > 1
    ? html` and lies on panel ${blank(store, gapOf("panel", "choice", element.panel, { choices: panels }), element.name, keep, ".")}` : nothing}</p></div>`;
}

/**
 * @param {Store} store
 * @param {Element} element
 */
function deeds(store, element) {
  const may = new Set(element.may);
  const all = allOf(store, element);
  return html`<div class="row">
    ${may.has("at") && !["along", "on"].includes(arrangementOf(element) ?? "") ? html`<button class="may" @click=${() => copied(store, element)}>Set another like it</button>` : nothing}
    ${may.has("mirror") ? html`<button class="may" aria-pressed=${Boolean(element.words.mirror)} @click=${() => mirrored(store, element)}>Turn it over</button>` : nothing}
    ${may.has("turn") ? html`<button class="may" @click=${() => turned(store, element, -TURN)}>Turn left ${TURN}°</button>
      <button class="may" @click=${() => turned(store, element, TURN)}>Turn right ${TURN}°</button>` : nothing}
    <button class="may" ?disabled=${!neighbour(store, element, -1)} @click=${() => laid(store, element, -1)}>Lay it lower</button>
    <button class="may" ?disabled=${!neighbour(store, element, 1)} @click=${() => laid(store, element, 1)}>Lay it higher</button>
    <button class="may" @click=${() => takenOff(store, [element])}>Take ${all.startsWith("all") ? all : "it"} off</button></div>`;
}

/**
 * How it may be set out several times, and singly again.
 * @param {Store} store
 * @param {Element} element
 */
function arrangements(store, element) {
  const lines = Object.keys(store.cloth?.lines ?? {});
  const now = arrangementOf(element);
  const may = ARRANGEMENTS.filter((word) => element.may.includes(word) && word !== now && (word !== "along" || lines.length));
  if (!may.length && !now) return nothing;
  const tell = async (/** @type {Promise<string>} */ done) => {
    const wrong = await done;
    if (wrong) store.refused(new Error(wrong), null);
  };
  return html`<h2>Set out</h2><div class="row">
    ${may.map((word) => html`<button class="may" @click=${() => tell(arranged(store, element, word))}>${SET_OUT[word]}</button>`)}
    ${now ? html`<button class="may" @click=${() => tell(arranged(store, element, null))}>Singly again</button>
      <button class="may" @click=${() => tell(freed(store, element))}>Set each free</button>` : nothing}</div>`;
}
