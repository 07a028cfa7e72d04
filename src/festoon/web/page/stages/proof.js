/** Proof: findings as sentences, worst first; choosing one shows the place; what is to be looked at again may be accepted. */

import { html, nothing } from "../vendor/lit/index.js";
import "../lens.js";
import "../proof/map.js";
import "../proof/note.js";
import { legend } from "../proof/legend.js";
import { meetings, places } from "../proof/marks.js";
import { accepting, entries, mending } from "../reckon/found.js";
import { toScreen } from "../reckon/view.js";
import { seal, sealOf, wordOf } from "../seal.js";
import { capital, numberWord } from "../words.js";

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../reckon/found.js").Entry} Entry */

/** @type {import("./stage.js").Stage} */
export const proof = {
  id: "proof",
  needs: "proof",
  ledger,
  hint: legend,
  between: (sheet) => (sheet.store.seenAs === "thickness" ? html`<festoon-thickness .store=${sheet.store} .found=${sheet.store.found} panel=${sheet.store.panel} .view=${sheet.view} .box=${sheet.box}></festoon-thickness>` : nothing),
  over: (store, view) => {
    const marks = marked(store);
    const here = marks.map((index) => store.found?.findings[index].where).filter((where) => where?.panel === store.panel);
    const pins = here.flatMap((where) => (where?.at ? [toScreen(view, where.at)] : []));
    return [meetings(store, view, pins), places(store, view, marks)];
  },
  aside: (sheet) => html`${slip(sheet.store)}<festoon-lens .sheet=${sheet} .view=${sheet.view}></festoon-lens>`,
  strength: (store) => (store.seenAs === "thickness" && store.found?.thickness.length ? 0 : 1),
};

/** What is told of the meeting that is looked at. @param {Store} store */
function slip(store) {
  const told = store.found?.meetings[store.meeting]?.told;
  return told ? html`<p class="slip meeting-told">${capital(told)}</p>` : nothing;
}

/** The findings with a mark on the sheet: of each entry the one that is shown, else the first. @param {Store} store */
function marked(store) {
  return entries(store.found?.findings ?? [])
    .filter(({ worst }) => worst.verdict !== "sound")
    .map(({ indices }) => indices.find((index) => index === store.shown) ?? indices[0]);
}

/** @param {Store} store */
function ledger(store) {
  const { found } = store;
  if (!found) return nothing;
  const all = entries(found.findings);
  const open = all.filter(({ worst }) => !worst.accepted);
  const accepted = all.filter(({ worst }) => worst.accepted);
  const filled = open.find(({ worst }) => worst.mends.length);
  return html`<h1>${headline(open)}</h1>${lead(open, accepted)}
    <ul class="finds">${open.map((entry) => told(store, entry, entry === filled))}</ul>
    ${accepted.length ? html`<h2>Accepted by you</h2><ul class="finds">${accepted.map((entry) => letBe(store, entry))}</ul>` : nothing}
    ${found.told.map((sentence) => html`<p>${sentence}</p>`)}
    ${found.unneeded.map((one) => html`<div class="unneeded"><p>${one.told}</p><button class="may" @click=${() => store.change("taking an acceptance back", [{ do: "accept", rule: one.rule, panel: one.panel, about: one.about }])}>Take that acceptance back</button></div>`)}
    <p class="soft small">It is worked out afresh at every change.</p>`;
}

/**
 * @param {Entry[]} open
 * @param {string} verdict
 */
function count(open, verdict) {
  return open.filter(({ worst }) => worst.verdict === verdict).length;
}

/** @param {Entry[]} open */
function headline(open) {
  const [wont, look] = [count(open, "will not work"), count(open, "look again")];
  if (wont) return `${capital(numberWord(wont))} ${wont === 1 ? "thing" : "things"} to put right`;
  return look ? `${capital(numberWord(look))} ${look === 1 ? "thing" : "things"} to look at again` : "All is sound";
}

/**
 * @param {Entry[]} open
 * @param {Entry[]} accepted
 */
function lead(open, accepted) {
  const [wont, look] = [count(open, "will not work"), count(open, "look again")];
  if (!open.length && !accepted.length) return html`<p class="short">${seal("sound")}<b class="word sound">Nothing stands in the way of sewing it.</b></p>`;
  const said = [wont && look ? `${capital(numberWord(look))} to look at again besides.` : "", accepted.length ? `${capital(numberWord(accepted.length))} you have accepted.` : ""];
  return html`<p class="lead">${said.filter(Boolean).join(" ") || nothing}</p>`;
}

/**
 * @param {Store} store
 * @param {Entry} entry
 * @param {boolean} filled whether its remedy is the one filled button
 */
function told(store, { indices, worst }, filled) {
  const { verdict, reason, remedy, lapsed, mends, key, group } = worst;
  return html`<li class="find ${sealOf(verdict)} ${indices.includes(store.shown) ? "chosen" : ""}" data-group=${group}>${seal(verdict)}
    <div><b class="word ${sealOf(verdict)}">${wordOf(verdict)}</b>
      <p class="serif">${reason}</p>${lapsed ? html`<p class="lapsed">${lapsed}</p>` : nothing}
      ${remedy ? html`<p>${remedy}</p>` : nothing}${details(worst)}
      <div class="row">${mends.map((mend) => html`<button class=${filled && mend === mends[0] ? "do" : "may"} @click=${() => mended(store, mend)}>${mend.told}</button>`)}
        ${shower(store, indices)}${key ? html`<festoon-note told=${worst.where.told} .accept=${(/** @type {string} */ note) => accept(store, indices, note)}></festoon-note>` : nothing}</div></div></li>`;
}

/**
 * @param {Store} store
 * @param {Entry} entry
 */
function letBe(store, { indices, worst }) {
  return html`<li class="find ${indices.includes(store.shown) ? "chosen" : ""}" data-group=${worst.group}>${seal("sound")}
    <div><b class="word sound">Accepted</b><p class="serif">“${worst.accepted}”</p><p>${worst.reason}</p>${details(worst)}
      <div class="row">${shower(store, indices)}<button class="may take-back" @click=${() => takeBack(store, indices)}>Take the acceptance back<span class="vh">: ${worst.where.told}</span></button></div></div></li>`;
}

/** @param {Finding} finding */
function details({ where, figure, limit, source }) {
  return html`<p class="soft small">${capital([where.told, figure && `found ${figure}`, limit && `limit ${limit}`, source].filter(Boolean).join(" · "))}</p>`;
}

/**
 * Brings the sheet to the place; to one after the other where the same was found at several.
 * @param {Store} store
 * @param {number[]} indices
 */
function shower(store, indices) {
  const findings = store.found?.findings ?? [];
  const here = indices.filter((index) => findings[index]?.where.at);
  if (!here.length) return nothing;
  const now = here.indexOf(store.shown);
  const next = here[(now + 1) % here.length];
  const words = here.length === 1 ? "Show me" : now < 0 ? `Show me, at ${here.length} places` : `Show me the next; this is ${now + 1} of ${here.length}`;
  return html`<button class="may" aria-pressed=${now >= 0} @click=${() => shown(store, next)}>${words}<span class="vh">: ${findings[next].where.told}</span></button>`;
}

/**
 * Shows a place, and the sheet where the ledger lies below it.
 * @param {Store} store
 * @param {number} index
 */
function shown(store, index) {
  store.show(index);
  document.querySelector("festoon-sheet")?.scrollIntoView({ block: "nearest" });
}

/**
 * @param {Store} store
 * @param {import("../types.js").Mend} mend
 */
function mended(store, mend) {
  const { label, edit } = mending(mend);
  void store.change(label, [edit]);
}

/**
 * @param {Store} store
 * @param {number[]} indices
 * @param {string} note
 */
async function accept(store, indices, note) {
  const all = store.found?.findings ?? [];
  const wrong = await store.attempt("accepting a finding", accepting(indices.map((index) => all[index]), all, note));
  if (!wrong) void focusOn(all[indices[0]].group, ".take-back");
  return wrong;
}

/**
 * @param {Store} store
 * @param {number[]} indices
 */
async function takeBack(store, indices) {
  const all = store.found?.findings ?? [];
  const done = await store.change("taking an acceptance back", accepting(indices.map((index) => all[index]), all, null));
  if (done) void focusOn(all[indices[0]].group, "festoon-note button");
}

/**
 * The focus goes where the same findings now stand in the ledger.
 * @param {number} group
 * @param {string} what
 */
async function focusOn(group, what) {
  await new Promise((then) => requestAnimationFrame(then));
  /** @type {HTMLElement | null} */ (document.querySelector(`[data-group="${group}"] ${what}`))?.focus();
}
