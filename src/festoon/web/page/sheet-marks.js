/** What is drawn on the sheet in screen pixels over cloth and thread: rulers, measures, hoopings, findings. */

import { svg, nothing } from "./vendor/lit/index.js";
import { showLength } from "./reckon/length.js";
import { ticks } from "./reckon/ruler.js";
import { ellipse, onPanel } from "./reckon/shapes.js";
import { toScreen } from "./reckon/view.js";
import { sealOf, sealShape, wordOf } from "./seal.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./types.js").Units} Units */
/** @typedef {import("./reckon/view.js").View} View */

/** How many times life the ellipses of misfit are drawn, so that tenths of a millimetre can be seen. */
export const MAGNIFIED = 12;
const STRIP = 30;

/**
 * Both rulers, along the upper and left edge of the window.
 * @param {View} view
 * @param {Spot} size
 * @param {Spot} box
 * @param {Units} units
 */
export function rulers(view, size, box, units) {
  const across = ticks(size[0], view.scale, units).filter((t) => seen(view.x + view.scale * t.at, box[0]));
  const down = ticks(size[1], view.scale, units).filter((t) => seen(view.y + view.scale * t.at, box[1]));
  return svg`<g class="rulers" aria-hidden="true">
    <path class="strip" d="M0 0H${box[0]}V${STRIP}H${STRIP}V${box[1]}H0Z"></path>
    ${across.map(({ at, label, tall }) => {
      const x = view.x + view.scale * at;
      return svg`<path class="tick" d="M${x} ${STRIP}v${label ? -20 : tall ? -9 : -5}"></path>
        ${label ? svg`<text x=${x + 4} y=${STRIP - 10}>${label}</text>` : nothing}`;
    })}
    ${down.map(({ at, label, tall }) => {
      const y = view.y + view.scale * at;
      return svg`<path class="tick" d="M${STRIP} ${y}h${label ? -20 : tall ? -9 : -5}"></path>
        ${label ? svg`<text transform="translate(${STRIP - 10} ${y - 4}) rotate(-90)">${label}</text>` : nothing}`;
    })}
    <text class="unit" x="5" y="20">${units === "mm" ? "mm" : "in"}</text></g>`;
}

/**
 * How far a place lies from the cloth's left and upper edge, measured with the pen.
 * @param {View} view
 * @param {Spot} at
 * @param {Units} units
 */
export function measures(view, at, units) {
  const [x, y] = toScreen(view, at);
  const [x0, y0] = toScreen(view, [0, 0]);
  return svg`<g class="measures" aria-hidden="true">
    <path class="pen-line" d="M${x0} ${y}H${x}M${x0} ${y - 6}v12M${x} ${y0}V${y}M${x - 6} ${y0}h12"></path>
    <path class="cross" d="M${x - 8} ${y}h16M${x} ${y - 8}v16"></path>
    <text class="pen-text" text-anchor="middle" x=${(Math.max(x0, STRIP) + x) / 2} y=${y - 8}>${showLength(at[0], units)}</text>
    <text class="pen-text" x=${x + 8} y=${(Math.max(y0, STRIP) + y) / 2}>${showLength(at[1], units)}</text></g>`;
}

/**
 * The frames of the hoopings; the chosen one with its hoop and its crosses.
 * @param {View} view
 * @param {import("./types.js").Hooping[]} hoopings
 * @param {import("./types.js").Hoop[]} hoops
 * @param {number} chosen
 * @param {(number: number) => void} choose
 */
export function frames(view, hoopings, hoops, chosen, choose) {
  const ordered = [...hoopings].sort((a, b) => Number(a.record.number === chosen) - Number(b.record.number === chosen));
  const about = mean(hoopings.map((h) => h.record.centre));
  return svg`${ordered.map(({ record }) => frame(view, record, hoops.find((h) => h.name === record.hoop), record.number === chosen))}
    ${ordered.map(({ record }) => tag(view, record, about, record.number === chosen, choose))}`;
}

/**
 * @param {View} view
 * @param {import("./types.js").HoopingRecord} record
 * @param {import("./types.js").Hoop | undefined} hoop
 * @param {boolean} chosen
 */
function frame(view, record, hoop, chosen) {
  const [x, y] = toScreen(view, record.centre);
  const k = view.scale;
  return svg`<g class=${chosen ? "frame chosen" : "frame"}>
    <g transform="translate(${x} ${y}) rotate(${record.turn})">
      ${chosen && hoop ? svg`<path class="hoop-wood" fill-rule="evenodd" d=${`${rounded(hoop.outer, k, 0.12)}${rounded(hoop.inner, k, 0.1)}`}></path>` : nothing}
      <path class="field-under" d=${rounded(record.field, k, 0.06)}></path>
      <path class="field" d=${rounded(record.field, k, 0.06)}></path></g>
    ${chosen ? record.marks.map((mark) => crossOf(view, mark)) : nothing}</g>`;
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
 * @param {View} view
 * @param {import("./types.js").HoopingRecord} record
 * @param {Spot} about
 * @param {boolean} chosen
 * @param {(number: number) => void} choose
 */
function tag(view, record, about, chosen, choose) {
  const [w, h] = record.field;
  const sides = /** @type {Spot[]} */ ([[-w / 2, 0], [w / 2, 0], [0, -h / 2], [0, h / 2]]).map((s) => onPanel(record, s));
  const far = sides.sort((a, b) => distance(b, about) - distance(a, about))[0];
  const [x, y] = toScreen(view, far);
  return svg`<g class=${chosen ? "tag chosen" : "tag"} transform="translate(${x} ${y})" @click=${() => choose(record.number)}>
    <circle class="reach" r="22"></circle><circle class="disc" r="15"></circle>
    <text text-anchor="middle" y="7">${record.number}</text></g>`;
}

/**
 * Findings at their places, and how far two hoopings may miss each other.
 * @param {View} view
 * @param {import("./types.js").Proof} proof
 * @param {string} panel
 * @param {number} shown the finding that is shown, or -1
 * @param {(index: number) => void} show
 */
export function findings(view, proof, panel, shown, show) {
  const k = view.scale;
  return svg`${proof.meetings.filter((m) => m.panel === panel).map((m) => {
    const { long, short, turn } = ellipse(m.covariance);
    const [x, y] = toScreen(view, m.at);
    const times = k * Math.min(MAGNIFIED, Math.max(1, 14 / (k * long)));
    return svg`<ellipse class="misfit" rx=${long * times} ry=${short * times} transform="translate(${x} ${y}) rotate(${turn})"></ellipse>`;
  })}
  ${proof.findings.map((finding, index) => {
    if (!finding.where.at || finding.where.panel !== panel || (finding.verdict === "sound" && index !== shown)) return nothing;
    const [x, y] = toScreen(view, finding.where.at);
    return svg`<g class="place ${sealOf(finding.verdict)} ${index === shown ? "chosen" : ""}" transform="translate(${x} ${y})"
      @click=${() => show(index)}><title>${wordOf(finding.verdict)}: ${finding.reason}</title>
      ${index === shown ? svg`<circle class="ring" r="26"></circle>` : nothing}
      <path class="pointer" d="M0 0 0-24"></path><circle class="spot" r="3"></circle>
      <g class="on-sheet" transform="translate(0 -34) scale(.9)">${sealShape(finding.verdict)}</g></g>`;
  })}`;
}

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
 * @param {number} px
 * @param {number} most
 */
function seen(px, most) {
  return px >= STRIP && px <= most;
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
