/** The hoop as it sits in the machine, and where it lies on the cloth. */

import { html, nothing, svg } from "../vendor/lit/index.js";
import { drawnOff, fieldOn } from "../reckon/bench.js";
import { linePath, pathsOf } from "../reckon/shapes.js";
import * as server from "../server.js";

/** @typedef {import("../types.js").BenchHooping} BenchHooping */
/** @typedef {import("../types.js").Spot} Spot */

/** mm: half the arms of a cross, and the ring about the needle's place (by eye). */
const ARM = 5;
const NEEDLE = 4;

/**
 * The hoop with its crosses. At the needle check the needle's places are ringed, and each cross lies as it was read.
 * @param {BenchHooping} hooping
 * @param {string} revision
 * @param {{sewing: number, checked: boolean, readings: Record<string, Spot>}} how sewing: how strongly its own stitching shows
 */
export function hoopPicture(hooping, revision, { sewing, checked, readings }) {
  const { outer, inner, field } = hooping.hoop;
  const [w, h] = [outer[0] + 4, outer[1] + 4];
  const image = (/** @type {string} */ name, /** @type {number} */ strength) => svg`<image href="${server.benchPicture(hooping.number, name, revision)}"
    x=${-inner[0] / 2} y=${-inner[1] / 2} width=${inner[0]} height=${inner[1]} opacity=${strength}></image>`;
  return html`<svg class="hoop-picture" viewBox="${-w / 2} ${-h / 2} ${w} ${h}" role="img" aria-label=${spoken(hooping)}>
    <clipPath id="inside"><rect x=${-inner[0] / 2} y=${-inner[1] / 2} width=${inner[0]} height=${inner[1]} rx=${0.06 * Math.min(...inner)}></rect></clipPath>
    <rect class="under-cloth" x=${-inner[0] / 2 - 1} y=${-inner[1] / 2 - 1} width=${inner[0] + 2} height=${inner[1] + 2}></rect>
    <g clip-path="url(#inside)"><path class="hooped" d=${linePath(hooping.cloth, true)}></path>${image("sewn", 1)}${sewing ? image("sewing", sewing) : nothing}</g>
    <path class="ring-wood" fill-rule="evenodd" d="${rounded(outer, 0.1)}${rounded(inner, 0.06)}"></path>
    <path class="ring-light" d=${rounded([outer[0] - 3, outer[1] - 3], 0.1)}></path>
    <rect class="reach-of-needle" x=${-field[0] / 2} y=${-field[1] / 2} width=${field[0]} height=${field[1]}></rect>
    ${hooping.crosses.map(({ name, in_hoop }) => cross(name, in_hoop, checked, drawnOff(readings[name]), inner))}</svg>`;
}

/**
 * @param {string} name
 * @param {Spot} at
 * @param {boolean} checked
 * @param {Spot} off
 * @param {Spot} inner
 */
function cross(name, [x, y], checked, [dx, dy], inner) {
  const side = x + dx > inner[0] / 2 - 18 ? -1 : 1;
  const beside = (side < 0 ? Math.min(x, x + dx) : Math.max(x, x + dx)) + side * (ARM + 2);
  return svg`${checked ? svg`<circle class="needle-ring" cx=${x} cy=${y} r=${NEEDLE}></circle><circle class="needle-point" cx=${x} cy=${y} r="1.3"></circle>` : nothing}
    <path class="cross" d="M${x + dx - ARM} ${y + dy}h${2 * ARM}M${x + dx} ${y + dy - ARM}v${2 * ARM}"></path>
    <text class="cross-name" x=${beside} y=${y + dy} dy=".36em" text-anchor=${side < 0 ? "end" : "start"}>${name}</text>`;
}

/** Where each cross lies, in words. @param {BenchHooping} hooping */
function spoken(hooping) {
  const places = hooping.crosses.map(({ name, in_hoop: [x, y] }) => `cross ${name} at the ${y < 0 ? "top" : "bottom"} ${x < 0 ? "left" : "right"}`);
  return `The hoop as it sits in the machine: ${places.join(", ")}.`;
}

/**
 * Path data of a rounded rectangle about the middle.
 * @param {Spot} size
 * @param {number} share of its shorter side
 */
function rounded([w, h], share) {
  const r = share * Math.min(w, h);
  const [a, b] = [w - 2 * r, h - 2 * r];
  return `M${-w / 2 + r} ${-h / 2}h${a}a${r} ${r} 0 0 1 ${r} ${r}v${b}a${r} ${r} 0 0 1 ${-r} ${r}h${-a}a${r} ${r} 0 0 1 ${-r} ${-r}v${-b}a${r} ${r} 0 0 1 ${r} ${-r}z`;
}

/**
 * The panel small, with the hoop on it; its upper side is thick.
 * @param {import("../store.js").Store} store
 * @param {BenchHooping} hooping
 */
export function locator(store, hooping) {
  const panel = store.piece?.panels.find((p) => p.name === hooping.panel);
  if (!panel || !store.piece) return nothing;
  const [w, h] = panel.size;
  const corners = fieldOn(hooping);
  const parts = store.piece.parts.filter((part) => part.panel === panel.name);
  return html`<figure class="locator"><svg viewBox="0 0 ${w} ${h}" role="img" aria-label="Where the hoop lies on ${panel.name}">
    <rect class="small-cloth" width=${w} height=${h}></rect>${parts.map((part) => svg`<path class="small-part" fill-rule="evenodd" d=${pathsOf(part.outline).rings}></path>`)}
    <path class="small-hoop" d=${linePath(corners, true)}></path><path class="small-top" d=${linePath(corners.slice(0, 2), false)}></path></svg>
    <figcaption>On the cloth. The thick line is the hoop's upper side.</figcaption></figure>`;
}
