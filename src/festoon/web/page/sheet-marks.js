/** What is drawn on the sheet in screen pixels over cloth and thread: rulers. */

import { svg, nothing } from "./vendor/lit/index.js";
import { ticks } from "./reckon/ruler.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./types.js").Units} Units */
/** @typedef {import("./reckon/view.js").View} View */

/** px from the window's edge that the rulers take. */
export const STRIP = 30;

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
    <path class="tick" d=${across.map((t) => `M${view.x + view.scale * t.at} ${STRIP}v${-tall(t)}`).join("")}></path>
    ${across.filter((t) => t.label).map((t) => svg`<text x=${view.x + view.scale * t.at + 4} y=${STRIP - 10}>${t.label}</text>`)}
    <path class="tick" d=${down.map((t) => `M${STRIP} ${view.y + view.scale * t.at}h${-tall(t)}`).join("")}></path>
    ${down.filter((t) => t.label).map((t) => svg`<text transform="translate(${STRIP - 10} ${view.y + view.scale * t.at - 4}) rotate(-90)">${t.label}</text>`)}
    <text class="unit" x="5" y="20">${units === "mm" ? "mm" : "in"}</text></g>`;
}

/** px that a tick is long. @param {import("./reckon/ruler.js").Tick} tick */
function tall({ label, tall }) {
  return label ? 20 : tall ? 9 : 5;
}

/**
 * @param {number} px
 * @param {number} most
 */
function seen(px, most) {
  return px >= STRIP && px <= most;
}
