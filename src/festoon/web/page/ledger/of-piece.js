/** The ledger where nothing is chosen: the piece, its cloth, and what lies on it. */

import { html, nothing } from "../vendor/lit/index.js";
import { chooseElement, laid, neighbour } from "../deeds.js";
import { gapOf } from "../reckon/ledger.js";
import { freeName } from "../reckon/bring-in.js";
import { SHAPES, shaped } from "../reckon/panel-shape.js";
import { seal, sealOf, wordOf } from "../seal.js";
import { blank, filled, sentences } from "../sentences.js";
import { capital, counted, whole } from "../words.js";

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../types.js").Panel} Panel */

/** @param {Store} store */
export function ofPiece(store) {
  const { piece, cloth } = store;
  if (!piece || !cloth) return nothing;
  const here = piece.elements.filter((e) => e.panel === cloth.name);
  return html`<h1>${piece.name}</h1>
    <div class="ruled">${ofName(store)}${ofCloth(store, cloth)}</div>${more(store, cloth)}
    ${panels(store)}
    ${here.length ? layers(store, here) : html`<div class="empty"><p class="lead">Nothing lies on this cloth yet.</p>
      <p><button class="do" @click=${() => store.dispatchEvent(new Event("drawer"))}>Open the drawer</button></p></div>`}
    ${piece.findings.length ? html`<div class="of-piece">${piece.findings.map((f) => html`<p class="short">${seal(f.verdict)}<span>
      <b class="word ${sealOf(f.verdict)}">${wordOf(f.verdict)}.</b> ${f.reason} ${f.remedy}</span></p>`)}</div>` : nothing}`;
}

/** @param {Store} store */
function ofName(store) {
  const name = store.piece?.name ?? "";
  return html`<p>The piece is called ${blank(store, gapOf("name", "words", name), "the piece", (word, value) =>
    store.attempt("renaming the piece", [{ do: "piece", table: "piece", word, value }]), ".")}</p>`;
}

/**
 * @param {Store} store
 * @param {Panel} cloth
 */
function ofCloth(store, cloth) {
  const told = `panel ${cloth.name}`;
  /** @param {string} word @param {(value: unknown) => unknown} [all] */
  const keep = (word, all = (value) => value) => (/** @type {string} */ _, /** @type {unknown} */ value) =>
    store.attempt(word === "name" ? `renaming ${cloth.name}` : `changing the ${word} of ${cloth.name}`, [{ do: "panel", panel: cloth.name, word, value: all(value) }]);
  const [w, h] = cloth.size;
  const shape = gapOf("shape", "choice", cloth.shape, { choices: SHAPES.includes(cloth.shape) ? SHAPES : [cloth.shape, ...SHAPES] });
  const reshape = (/** @type {string} */ _, /** @type {unknown} */ value) =>
    store.attempt(`changing the shape of ${cloth.name}`, shaped(cloth, String(value)));
  return html`<p>${store.piece && store.piece.panels.length > 1 ? html`Panel ${blank(store, gapOf("name", "words", cloth.name), told, keep("name"))} is` : "Its cloth is"}
    ${blank(store, gapOf("cloth", "words", cloth.cloth || null, { usual: true }), told, keep("cloth"), ",")}
    ${blank(store, gapOf("width", "length", w), told, keep("size", (value) => [value, h]))} wide and
    ${blank(store, gapOf("height", "length", h), told, keep("size", (value) => [w, value]))} high, with a seam of
    ${blank(store, gapOf("seam", "length", cloth.seam), told, keep("seam"))} all round. Its shape:
    ${blank(store, shape, told, reshape, ".")}</p>
    ${cloth.sentences.map((sentence) => filled(store, sentence, told, shaping(store, cloth)))}`;
}

/**
 * What keeps a word of a panel's shape.
 * @param {Store} store
 * @param {Panel} cloth
 * @returns {import("../sentences.js").Keep}
 */
function shaping(store, cloth) {
  return (word, value) => store.attempt(`changing the shape of ${cloth.name}`, [{ do: "panel", panel: cloth.name, word, value }]);
}

/**
 * What only garments have: the edges that are hemmed, folded or sewn together, and who wears it for the cautions.
 * @param {Store} store
 * @param {Panel} cloth
 */
function more(store, cloth) {
  const worn = store.piece?.wearer ?? null;
  const wearer = gapOf("wearer", "choice", worn, { choices: ["infant", "child", "grown"], usual: true });
  const said = worn !== null || cloth.edges.some((sentence) => sentence.gaps.some((gap) => gap.value !== null && gap.value !== false));
  return html`<details class="more" ?open=${said}><summary class="leaf">Its edges, and who wears it</summary>
    <div class="ruled">${cloth.edges.map((sentence) => filled(store, sentence, `panel ${cloth.name}`, shaping(store, cloth)))}
    <p>Who wears it, for the cautions: ${blank(store, wearer, "the piece", (word, value) =>
      store.attempt("saying who wears it", [{ do: "piece", table: "piece", word, value }]), ".")}</p></div></details>`;
}

/** The panels, to be looked at, and one more. @param {Store} store */
function panels(store) {
  const { piece, cloth, panel } = store;
  if (!piece || !cloth) return nothing;
  const bare = piece.panels.length > 1 && !piece.elements.some((e) => e.panel === panel);
  const add = async () => {
    const name = freeName(`panel ${piece.panels.length + 1}`, piece.panels.map((p) => p.name));
    if (await store.change(`adding panel ${name}`, [{ do: "add panel", panel: { name, size: cloth.size, cloth: cloth.cloth, seam: cloth.seam } }])) {
      store.set({ panel: name, chosen: [] });
    }
  };
  return html`<div class="row">${piece.panels.length > 1 ? piece.panels.map((p) => html`<button class="may" aria-pressed=${p.name === panel}
      @click=${() => store.set({ panel: p.name, chosen: [] })}>${whole(capital(p.name))}</button>`) : nothing}
    <button class="may" @click=${add}>One more panel</button>
    ${bare ? html`<button class="may" @click=${() => store.change(`taking panel ${panel} away`, [{ do: "remove panel", panel }])}>Take ${whole(panel)} away</button>` : nothing}</div>`;
}

/**
 * What lies on the cloth, the lowest first, each with its sentences.
 * @param {Store} store
 * @param {import("../types.js").Element[]} here
 */
function layers(store, here) {
  return html`<h2>From the lowest layer to the highest</h2><ol class="layers">${here.map((element) => {
    const parts = store.parts.filter((p) => p.element === element.name);
    return html`<li class="of-element"><div class="layer"><h3 class="element"><button class="leaf" @click=${() => chooseElement(store, element.name)}>${whole(capital(element.name))}</button></h3>
        <span class="soft small">${element.told}${parts.length > 1 ? `, ${counted(parts.length)} times` : ""}</span>
        <span class="layer-moves">${here.length > 1 ? html`
          <button class="may" ?disabled=${!neighbour(store, element, -1)} @click=${() => laid(store, element, -1)} aria-label="Lay ${element.name} lower">Lower</button>
          <button class="may" ?disabled=${!neighbour(store, element, 1)} @click=${() => laid(store, element, 1)} aria-label="Lay ${element.name} higher">Higher</button>` : nothing}</span></div>
      ${sentences(store, element)}</li>`;
  })}</ol>`;
}
