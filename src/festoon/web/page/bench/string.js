import { html, svg } from "../vendor/lit/index.js";
import { finished } from "../reckon/bench.js";

/**
 * The work's thread from hooping to hooping, drawn through where it is sewn.
 * @param {import("../types.js").Bench} bench
 * @param {number} here
 */
export function string({ hoopings }, here) {
  const step = 350 / hoopings.length;
  const x = (/** @type {number} */ i) => step * (i + 0.5);
  return html`<svg class="string" viewBox="0 0 350 28" aria-hidden="true">${hoopings.slice(1).map((_, i) => {
    const d = `M${x(i)} 12C${x(i) + 0.3 * step} 22 ${x(i + 1) - 0.3 * step} 22 ${x(i + 1)} 12`;
    return finished(hoopings[i]) ? svg`<path class="swag-under" d=${d}></path><path class="swag" d=${d}></path><path class="swag-twist" d=${d}></path>` : svg`<path class="swag-ahead" d=${d}></path>`;
  })}${hoopings.map((h, i) => svg`<circle class=${finished(h) || h.number === here ? "knot" : "knot-ahead"} cx=${x(i)} cy="12" r=${Math.min(h.number === here ? 8 : 5, (h.number === here ? 0.5 : 0.3) * step)}></circle>`)}</svg>`;
}
