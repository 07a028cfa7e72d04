/** The blanks in which the crosses' readings are written. */

import { html, nothing } from "../vendor/lit/index.js";
import { live } from "../vendor/lit/directives/live.js";
import { emptyEntry } from "../reckon/bench.js";
import { unitWord } from "../reckon/length.js";

/** @typedef {import("../reckon/bench.js").Entry} Entry */
/** @typedef {import("../reckon/bench.js").Blank} Blank */
/** @typedef {import("../types.js").Units} Units */

/**
 * A sentence for each cross. fill is told what changed.
 * @param {string[]} crosses
 * @param {Record<string, Entry>} entries
 * @param {Units} units
 * @param {import("../reckon/bench.js").Missing[]} wrong
 * @param {(cross: string, news: Partial<Entry>) => void} fill
 */
export function readings(crosses, entries, units, wrong, fill) {
  return html`<div class="ruled big">${crosses.map((cross) => {
    const entry = entries[cross] ?? emptyEntry();
    const bad = (/** @type {Blank} */ blank) => wrong.some((w) => w.cross === cross && w.blank === blank);
    return html`<p><span class="nu">Cross <b>${cross}</b> is ${blank(cross, "across", entry.across, units, bad("across"), fill)} ${unitWord(units)}</span>
      ${flip(`Cross ${cross} lies to the`, entry.right ? "right" : "left", entry.right ? "left" : "right", () => fill(cross, { right: !entry.right }))} of the needle,
      <span class="nu">${blank(cross, "along", entry.along, units, bad("along"), fill)} ${unitWord(units)}</span>
      <span class="nu">${flip(`Cross ${cross} lies`, entry.up ? "up" : "down", entry.up ? "down" : "up", () => fill(cross, { up: !entry.up }))}.</span></p>`;
  })}</div>
  ${wrong.length ? html`<p class="wrong" role="alert">${wrong[0].told}. ${units === "mm" ? "Write it as 0.5 or 0,5." : "Write it as 1/32, 0.03 or 0,03."}</p>` : nothing}`;
}

/** The name of a blank's element. @param {string} cross @param {Blank} blank */
export const blankId = (cross, blank) => `cross-${cross}-${blank}`;

/**
 * @param {string} cross
 * @param {Blank} which
 * @param {string} text
 * @param {Units} units
 * @param {boolean} bad
 * @param {(cross: string, news: Partial<Entry>) => void} fill
 */
function blank(cross, which, text, units, bad, fill) {
  const told = which === "across" ? "right or left" : "up or down";
  return html`<input id=${blankId(cross, which)} class="n ${bad ? "bad" : ""}" size="4" inputmode=${units === "mm" ? "decimal" : "text"} enterkeyhint="next" autocomplete="off" spellcheck="false"
    aria-label="Cross ${cross}: how far ${told}, in ${units === "mm" ? "millimetres" : "inches"}" aria-invalid=${bad ? "true" : "false"} .value=${live(text)}
    @input=${(/** @type {Event} */ event) => fill(cross, { [which]: /** @type {HTMLInputElement} */ (event.target).value })}
    @keydown=${(/** @type {KeyboardEvent} */ event) => onward(event)}>`;
}

/** Enter goes to the next blank, and from the last to what can be done. @param {KeyboardEvent} event */
function onward(event) {
  if (event.key !== "Enter") return;
  event.preventDefault();
  const here = /** @type {HTMLElement} */ (event.target);
  const blanks = [...(here.closest(".ruled")?.querySelectorAll("input") ?? [])];
  const next = blanks[blanks.indexOf(/** @type {HTMLInputElement} */ (here)) + 1] ?? here.closest(".bench")?.querySelector(".at-hand .do");
  if (next instanceof HTMLElement) next.focus();
}

/**
 * A word that turns to its opposite when it is pressed.
 * @param {string} told what it says of
 * @param {string} now
 * @param {string} other
 * @param {() => void} turn
 */
function flip(told, now, other, turn) {
  return html`<button type="button" class="n turn" aria-label="${told} ${now}; press for ${other}" @click=${turn}>${now}</button>`;
}
