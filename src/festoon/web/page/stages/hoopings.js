/** Hoopings: how many, why not fewer, in what order; and what the worker lays, holds and orders herself. */

import { html, nothing } from "../vendor/lit/index.js";
import { live } from "../vendor/lit/directives/live.js";
import { repeat } from "../vendor/lit/directives/repeat.js";
import { HoopHand } from "../hoop-hand.js";
import { frames } from "../hoop-marks.js";
import { ofHooping } from "../ledger/of-hooping.js";
import { laidAt, say } from "../own-say.js";
import { orderWith } from "../reckon/own-say.js";
import { lengthNumber, unitWord } from "../reckon/length.js";
import { seal, sealOf } from "../seal.js";
import { capital, lasting, listed, numberWord, whole } from "../words.js";

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../types.js").Hoopings} Hoopings */
/** @typedef {import("../types.js").Hooping} Hooping */

/** @type {[string, string][]} */
const TURNS = [["square", "not at all"], ["quarter", "a quarter"], ["free", "any way"]];

/** @type {import("./stage.js").Stage} */
export const hoopings = {
  id: "hoopings",
  needs: "hoopings",
  ledger: (store) => (store.division ? ledger(store, store.division, false) : nothing),
  waiting(store) {
    const { dividedBefore, trouble } = store;
    return dividedBefore && !trouble ? ledger(store, dividedBefore, true) : nothing;
  },
  hint: (store) => (store.division ? "Choose a number to see its hoop and its crosses. Drag its frame, or move it by the arrow keys." : ""),
  over(store, view) {
    const here = shown(store)?.hoopings.filter((h) => h.record.panel === store.panel) ?? [];
    return here.length ? frames(view, here, store.piece?.hoops ?? [], store.hooping, (number) => store.look(number)) : nothing;
  },
  strength(store, part) {
    const sewn = shown(store)?.hoopings.find((h) => h.record.number === store.hooping)?.record.elements ?? [];
    return !sewn.length || sewn.includes(part.name) ? 1 : 0.35;
  },
  hand: (sheet) => new HoopHand(sheet, (hooping, at) => laidAt(sheet.store, hooping, at, hooping.record.turn, `moving hooping ${hooping.record.number}`)),
};

/** What is drawn while the next is being worked out: the last. @param {Store} store */
const shown = (store) => store.division ?? store.dividedBefore;

/**
 * @param {Store} store
 * @param {Hoopings} division
 * @param {boolean} old whether a new one is being worked out
 */
function ledger(store, division, old) {
  const count = division.hoopings.length;
  const own = store.piece?.dividing;
  return html`<div class="divided ${old ? "old" : ""}" aria-busy=${old ? "true" : "false"}>
    <h1>${count ? capital(numberWord(count)) : "No"} ${count === 1 ? "hooping" : "hoopings"}</h1>
    ${set(store)}
    ${ownSay(store, division, old)}
    ${why(division)}
    ${count ? html`<h2>In what order, and why</h2>` : nothing}
    <ol class="order">${repeat(division.hoopings, (hooping) => hooping.blocks[0].name, (hooping) => row(store, division.hoopings, hooping))}</ol>
    ${own?.order.length ? html`<p class="row"><button class="may" @click=${() => say(store, "letting the order go", { order: [] })}>Let my order go</button></p>` : nothing}
    ${division.notes.map((note) => html`<p class="soft">${note}</p>`)}
    ${count ? html`<p class="tally">About ${lasting(division.minutes)} at the machine in all.</p>` : nothing}</div>`;
}

/** The hoop and how it may be turned, in sentences. @param {Store} store */
function set(store) {
  const { piece, units } = store;
  const hoop = piece?.hoops.find((h) => h.name === piece.hoop);
  if (!piece || !hoop) return nothing;
  const { turn } = piece.dividing;
  const turns = typeof turn === "string" ? TURNS : [...TURNS, /** @type {[string, string]} */ (["", turn.map((t) => `${t}°`).join(", ")])];
  const [w, h] = hoop.field.map((mm) => lengthNumber(mm, units));
  return html`<div class="ruled"><p>The hoop ${chosen("Hoop", piece.hoops.map((one) => [one.name, one.name]), hoop.name, (name) => say(store, `taking the hoop ${name}`, { hoop: name }))}
      sews a field <span class="nu">${w} ${unitWord(units)}</span> wide and <span class="nu">${h} ${unitWord(units)}</span> tall.</p>
    <p>To the grain it may be turned ${chosen("How the hoop may be turned", turns, typeof turn === "string" ? turn : "", (to) => say(store, "changing how the hoop may be turned", { turn: to }))}.</p></div>`;
}

/**
 * @param {string} label
 * @param {[string, string][]} choices value and how it is told
 * @param {string} now
 * @param {(value: string) => void} choose
 */
function chosen(label, choices, now, choose) {
  return html`<select class="n" aria-label=${label} @change=${(/** @type {Event} */ e) => choose(/** @type {HTMLSelectElement} */ (e.target).value)}>
    ${choices.map(([value, told]) => html`<option value=${value} .selected=${live(value === now)}>${whole(told)}</option>`)}</select>`;
}

/**
 * What her own hoopings and order cost, and what of them cannot be.
 * @param {Store} store
 * @param {Hoopings} division
 * @param {boolean} old
 */
function ownSay(store, division, old) {
  const laid = store.piece?.dividing.laid ?? [];
  const lost = laid.filter((_, index) => !division.hoopings.some((h) => h.laid === index));
  return html`<div role="status">${division.own_say ? html`<p class="own-say">${division.own_say.sentence}</p>` : nothing}
    ${old ? html`<p class="soft working">Dividing it anew… ${store.busy ? html`<button class="may" @click=${() => store.busy?.stop.abort()}>Stop</button>` : nothing}</p>` : nothing}
    ${division.findings.map((f) => html`<p class="short">${seal(f.verdict)}<span><b class="word ${sealOf(f.verdict)}">${capital(whole(f.where.told))}.</b> ${whole(capital(f.reason))} ${whole(f.remedy)}</span></p>`)}</div>
    ${laid.length ? html`<p class="row">${!old && lost.length ? html`<button class="may" @click=${() => say(store, "letting go what cannot be", { laid: laid.filter((one) => !lost.includes(one)) })}>Let go what cannot be</button>` : nothing}
      <button class="may" @click=${() => say(store, "letting all my hoopings go", { laid: [] })}>Let all of mine go</button></p>` : nothing}`;
}

/** @param {Hoopings} division */
function why(division) {
  const count = division.hoopings.length;
  const told = division.record.fewest_proven
    ? html`<p class="short">${seal("sound")}<b class="word sound">${division.headline}</b></p>`
    : html`<p class="lead">${division.headline}</p>`;
  return html`${count > 1 ? html`<h2>Why not ${numberWord(count - 1)}?</h2>` : nothing}
    ${division.reasons.map((reason) => html`<p>${whole(reason)}</p>`)}${told}`;
}

/**
 * @param {Store} store
 * @param {Hooping[]} all
 * @param {Hooping} hooping
 */
function row(store, all, hooping) {
  const { record, blocks, reason } = hooping;
  const is = record.number === store.hooping;
  return html`<li class="${is ? "chosen" : ""} ${hooping.laid === null ? "" : "hers"}">
    <button class="hoop-row" aria-pressed=${is} @click=${() => store.look(record.number)}>
      <span class="num">${record.number}</span><span><b>${whole(capital(listed(blocks.map((b) => b.told))))}.</b> <span class="soft">${whole(reason)}</span>
      ${hooping.laid === null ? nothing : html`<span class="mine">Yours.</span>`}</span></button>
    ${is ? html`<div class="of-hooping">${ofHooping(store, all, hooping)}${turnAbout(store, all, hooping)}</div>` : nothing}</li>`;
}

/**
 * Sewn sooner or later.
 * @param {Store} store
 * @param {Hooping[]} all
 * @param {Hooping} hooping
 */
function turnAbout(store, all, hooping) {
  /** @type {["Sooner" | "Later", -1 | 1][]} */
  const ways = [["Sooner", -1], ["Later", 1]];
  const { number } = hooping.record;
  const bars = ways.map(([, way]) => orderWith(all, hooping, way).bar).filter((bar) => bar.includes("over"));
  return html`<p class="row">${ways.map(([told, way]) => {
    const { order, bar } = orderWith(all, hooping, way);
    return html`<button class="may" aria-disabled=${order ? "false" : "true"} aria-label="${told}: hooping ${number}${bar && `. ${bar}`}" title=${bar || nothing}
      @click=${() => (order ? say(store, `sewing ${number} ${told.toLowerCase()}`, { order }, hooping) : store.say(bar))}>${told}</button>`;
  })}<span class="soft small">${bars.join(" ")}</span></p>`;
}
