/** The ledger of the chosen hooping: what it takes, where its field lies, and what is held in it. */

import { html, nothing } from "../vendor/lit/index.js";
import { laidAt, say, several } from "../own-say.js";
import { withinTurn } from "../reckon/edits.js";
import { blockFreed, blocksHeld, fieldFreed, largest, letGo, mayJoin, ownOf } from "../reckon/own-say.js";
import { blank } from "../sentences.js";
import { counted, lasting, whole } from "../words.js";

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../types.js").Hooping} Hooping */
/** @typedef {import("../types.js").Gap} Gap */
/** @typedef {import("../types.js").Spot} Spot */

/**
 * @param {Store} store
 * @param {Hooping[]} all
 * @param {Hooping} hooping
 */
export function ofHooping(store, all, hooping) {
  const { record, minutes } = hooping;
  const laid = store.piece?.dividing.laid ?? [];
  const own = ownOf(laid, hooping);
  return html`<p class="soft">${counted(record.stitches)} stitches, ${lasting(minutes)}. Crosses: ${record.marks.map((m) => m.name).join(", ")}.</p>
    ${field(store, hooping, Boolean(own?.at))}
    ${held(store, all, hooping)}
    ${own ? html`<p class="row"><button class="may" @click=${() => say(store, `letting hooping ${record.number} go`, { laid: letGo(laid, hooping) }, hooping)}>Let all of hooping ${record.number} go</button></p>` : nothing}`;
}

/**
 * Where its field lies, to be filled in; kept there or free to move.
 * @param {Store} store
 * @param {Hooping} hooping
 * @param {boolean} kept
 */
function field(store, hooping, kept) {
  const { number, centre, turn } = hooping.record;
  const laid = store.piece?.dividing.laid ?? [];
  const told = `hooping ${number}`;
  /** @type {(gap: string, kind: Gap["kind"], value: unknown) => Gap} */
  const gap = (name, kind, value) => ({ gap: name, word: name, value, shown: "", kind, choices: [], usual: false });
  const place = gap("middle", "place", centre);
  const moved = async (/** @type {string} */ _word, /** @type {unknown} */ at) => done(await laidAt(store, hooping, /** @type {Spot} */ (at), turn, `moving ${told}`));
  const turned = async (/** @type {string} */ _word, /** @type {unknown} */ to) => done(await laidAt(store, hooping, centre, Number(to), `turning ${told}`));
  return html`<div class="ruled"><p>Its middle lies ${blank(store, place, told, moved)}, turned ${blank(store, gap("turn", "angle", withinTurn(turn)), told, turned)}.</p></div>
    <p class="row"><button class="may ${kept ? "held" : ""}" @click=${() => (kept
      ? say(store, `letting the field of ${told} go`, { laid: fieldFreed(laid, hooping) }, hooping)
      : laidAt(store, hooping, centre, turn, `keeping ${told} where it is`))}>${kept ? "Let its field go" : "Keep its field here"}</button>
      ${turn % 180 ? html`<button class="may" @click=${() => laidAt(store, hooping, centre, 0, `turning ${told} back`)}>Do not turn the hoop</button>` : nothing}</p>`;
}

/** What is refused is told above the sheet. @param {boolean} was @returns {string} */
const done = (was) => (was ? "" : "It is being divided anew. Try again in a moment.");

/**
 * What it sews, each held here or free; and what else may be sewn here.
 * @param {Store} store
 * @param {Hooping[]} all
 * @param {Hooping} hooping
 */
function held(store, all, hooping) {
  const { number } = hooping.record;
  const laid = store.piece?.dividing.laid ?? [];
  const holds = ownOf(laid, hooping)?.holds ?? [];
  const own = holds.length ? hooping.blocks.filter((b) => holds.includes(b.name)).map((b) => b.name) : [largest(hooping, store.parts)];
  const others = mayJoin(all, hooping, own, store.parts, store.piece?.dividing.turn ?? "quarter");
  const hold = (/** @type {string[]} */ names, /** @type {string} */ told) =>
    say(store, `holding ${told} in hooping ${number}`, { laid: blocksHeld(laid, hooping, names, several(store)) }, hooping);
  return html`<ul class="holds" aria-label="What hooping ${number} sews">${hooping.blocks.map(({ name, told }) => {
    const is = holds.includes(name);
    return html`<li><span>${whole(told)}${is ? html` <span class="mine">held here</span>` : nothing}</span>
      <button class="may ${is ? "held" : ""}" aria-label="${is ? "Let it go" : "Hold it here"}: ${told}" @click=${() => (is
        ? say(store, `letting ${told} go`, { laid: blockFreed(laid, hooping, name) }, hooping)
        : hold([name], told))}>${is ? "Let it go" : "Hold it here"}</button></li>`;
  })}</ul>
  ${others.length ? html`<p class="also"><label>Sew here too <select class="n" @change=${(/** @type {Event} */ e) => {
    const name = /** @type {HTMLSelectElement} */ (e.target).value;
    const other = others.find((one) => one.name === name);
    /** @type {HTMLSelectElement} */ (e.target).value = "";
    if (other) void hold([...own, name], other.told);
  }}><option value="">choose a part</option>${others.map(({ name, told }) => html`<option value=${name}>${whole(told)}</option>`)}</select></label></p>` : nothing}`;
}
