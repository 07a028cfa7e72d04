/** The hoopings drawn on the sheet: their frames, the chosen one with its hoop and crosses, and their numbers. */

import { nothing, svg } from "./vendor/lit/index.js";
import { onPanel } from "./reckon/shapes.js";
import { toScreen } from "./reckon/view.js";
import { listed } from "./words.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./types.js").Hooping} Hooping */
/** @typedef {import("./types.js").Hoop} Hoop */
/** @typedef {import("./reckon/view.js").View} View */

/** From so many frames on, those not next to the chosen one in the order of work are drawn fainter. */
const MANY = 7;

/**
 * @param {View} view
 * @param {Hooping[]} hoopings of the panel, in order
 * @param {Hoop[]} hoops
 * @param {number} chosen
 * @param {(number: number) => void} choose
 */
export function frames(view, hoopings, hoops, chosen, choose) {
  const ordered = [...hoopings].sort((a, b) => Number(a.record.number === chosen) - Number(b.record.number === chosen));
  const about = mean(hoopings.map((h) => h.record.centre));
  return svg`${ordered.map((hooping) => frame(view, hooping, hoops.find((h) => h.name === hooping.record.hoop), chosen, hoopings.length))}
    ${hoopings.map((hooping) => tag(view, hooping, about, hooping.record.number === chosen, hoopings.length, choose))}`;
}

/**
 * A field as it is just being moved.
 * @param {View} view
 * @param {Hooping} hooping
 * @param {Hoop | undefined} hoop
 * @param {Spot} at
 */
export function movedFrame(view, { record }, hoop, at) {
  const [x, y] = toScreen(view, at);
  return svg`<g class="frame moved" transform="translate(${x} ${y}) rotate(${record.turn})">
    ${hoop ? svg`<path class="hoop-wood" fill-rule="evenodd" d=${ring(hoop, view.scale)}></path>` : nothing}
    <path class="pen-line" d=${rounded(record.field, view.scale, 0.06)}></path></g>`;
}

/**
 * @param {View} view
 * @param {Hooping} hooping
 * @param {Hoop | undefined} hoop
 * @param {number} chosen the number of the chosen one
 * @param {number} count
 */
function frame(view, { record }, hoop, chosen, count) {
  const [x, y] = toScreen(view, record.centre);
  const k = view.scale;
  const is = record.number === chosen;
  const far = count > MANY && Math.abs(record.number - chosen) > 1;
  const field = rounded(record.field, k, 0.06);
  return svg`<g class="frame ${is ? "chosen" : far ? "far" : ""}">
    <g transform="translate(${x} ${y}) rotate(${record.turn})">
      ${is && hoop ? svg`<path class="hoop-wood" fill-rule="evenodd" data-hooping=${record.number} d=${ring(hoop, k)}></path>` : nothing}
      <path class="field-under" d=${field}></path><path class="field" d=${field}></path>
      ${is ? svg`<path class="field-reach" data-hooping=${record.number} d=${field}></path>` : nothing}</g>
    ${is ? record.marks.map((mark) => crossOf(view, mark)) : nothing}</g>`;
}

/**
 * @param {View} view
 * @param {import("./types.js").Mark} mark
 */
function crossOf(view, mark) {
  const [x, y] = toScreen(view, mark.at);
  return svg`<path class="cross" d="M${x - 8} ${y}h16M${x} ${y - 8}v16"></path>
    <text class="pen-text" x=${x + 7} y=${y - 7}>${mark.name}</text>`;
}

/**
 * The number of a hooping, on the side of its field that lies outermost; one that she laid herself has a pin in it.
 * @param {View} view
 * @param {Hooping} hooping
 * @param {Spot} about
 * @param {boolean} chosen
 * @param {number} count
 * @param {(number: number) => void} choose
 */
function tag(view, { record, blocks, laid }, about, chosen, count, choose) {
  const [w, h] = record.field;
  const sides = /** @type {Spot[]} */ ([[-w / 2, 0], [w / 2, 0], [0, -h / 2], [0, h / 2]]).map((s) => onPanel(record, s));
  const far = sides.sort((a, b) => distance(b, about) - distance(a, about))[0];
  const [x, y] = toScreen(view, far);
  const told = `Hooping ${record.number} of ${count}: ${listed(blocks.map((b) => b.told))}.${laid === null ? "" : " You laid it yourself."}${chosen ? " Arrow keys move its field." : ""}`;
  return svg`<g class="tag ${chosen ? "chosen" : ""} ${laid === null ? "" : "mine"}" data-hooping=${record.number} tabindex="0" role="button" aria-pressed=${chosen}
      aria-label=${told} transform="translate(${x} ${y})" @click=${() => choose(record.number)}>
    <circle class="reach" r="22"></circle><circle class="disc" r="15"></circle>
    ${laid === null ? nothing : svg`<path class="pin" d="M9-15l7 7-4.5 1L8-10.5z"></path><circle class="pin" cx="12.5" cy="-12.5" r="5"></circle>`}
    <text text-anchor="middle" y="7" aria-hidden="true">${record.number}</text></g>`;
}

/**
 * The wood of a hoop, between its rings.
 * @param {Hoop} hoop
 * @param {number} k px per mm
 */
const ring = (hoop, k) => `${rounded(hoop.outer, k, 0.12)}${rounded(hoop.inner, k, 0.1)}`;

/**
 * A rounded rectangle about its middle.
 * @param {Spot} size mm
 * @param {number} k px per mm
 * @param {number} share of the shorter side that the corners take
 */
function rounded([w, h], k, share) {
  const [a, b, r] = [(w * k) / 2, (h * k) / 2, Math.min(w, h) * k * share];
  return `M${-a + r} ${-b}H${a - r}A${r} ${r} 0 0 1 ${a} ${-b + r}V${b - r}A${r} ${r} 0 0 1 ${a - r} ${b}H${-a + r}A${r} ${r} 0 0 1 ${-a} ${b - r}V${-b + r}A${r} ${r} 0 0 1 ${-a + r} ${-b}Z`;
}

/**
 * @param {Spot[]} spots
 * @returns {Spot}
 */
function mean(spots) {
  const n = Math.max(1, spots.length);
  return [spots.reduce((s, p) => s + p[0], 0) / n, spots.reduce((s, p) => s + p[1], 0) / n];
}

/**
 * @param {Spot} a
 * @param {Spot} b
 */
function distance(a, b) {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
