/** What is drawn of cloth and parts on the sheet: below the thread the cloth, over it the outlines by which parts are chosen. */

import { svg, nothing } from "./vendor/lit/index.js";
import { repeat } from "./vendor/lit/directives/repeat.js";
import { showLength } from "./reckon/length.js";
import { linePath, pathsOf, ringsPath } from "./reckon/shapes.js";
import { toScreen } from "./reckon/view.js";

/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("./types.js").Units} Units */
/** @typedef {import("./reckon/view.js").View} View */

/**
 * The transform that carries mm on the cloth to the sheet.
 * @param {View} view
 */
export function onSheet(view) {
  return `translate(${view.x} ${view.y}) scale(${view.scale})`;
}

/**
 * The cloth with its edges and lines, in px of the sheet.
 * @param {View} view
 * @param {import("./types.js").Panel} cloth
 * @param {Units} units
 */
export function clothOn(view, cloth, units) {
  const { size: [w, h], shaped } = cloth;
  const [x, y] = toScreen(view, [0, 0]);
  const [x1, y1] = toScreen(view, cloth.size);
  const [cx, cy] = [(x + x1) / 2, (y + y1) / 2];
  return svg`<defs><pattern id="weave" width="3" height="3" patternUnits="userSpaceOnUse"><path class="weave" d="M0 .8h3M0 2.3h3M.8 0v3M2.3 0v3"></path></pattern></defs>
    <rect class="cloth" x=${x} y=${y} width=${x1 - x} height=${y1 - y}></rect>
    <rect fill="url(#weave)" x=${x} y=${y} width=${x1 - x} height=${y1 - y}></rect>
    <rect class=${shaped ? "block" : "cut"} x=${x} y=${y} width=${x1 - x} height=${y1 - y}></rect>
    ${shaped ? nothing : svg`<path class="centre" d="M${cx} ${y}V${y1}M${x} ${cy}H${x1}"></path>`}
    <path class="notch" d="M${cx - 7} ${y}h14l-7 10zM${cx - 7} ${y1}h14l-7-10zM${x} ${cy - 7}v14l10-7zM${x1} ${cy - 7}v14l-10-7z"></path>
    <g transform=${onSheet(view)}>
      ${shaped ? svg`<path class="cut" d=${ringsPath(cloth.outline)}></path>` : nothing}
      ${cloth.finished.map((run) => svg`<path class="seam" d=${linePath(run, false)}></path>`)}
      ${cloth.folds.map((run) => svg`<path class="on-fold" d=${linePath(run, false)}><title>Place on the fold</title></path>`)}
      ${cloth.own.map((name) => svg`<path class=${name === "centre front" ? "centre" : "named"} d=${linePath(cloth.lines[name], false)}><title>${name}</title></path>`)}</g>
    <text class="cloth-words" x=${x} y=${y1 + 24}>${cloth.name} · ${cloth.cloth || "cloth"} · ${showLength(w, units)} by ${showLength(h, units)}</text>`;
}

/**
 * The shade that thread throws on the cloth, in mm.
 * @param {Part[]} parts
 */
export function casts(parts) {
  return svg`${parts.map((part) => svg`<path class="cast" data-of=${part.name} fill-rule="evenodd" d=${pathsOf(part.outline).rings}></path>`)}`;
}

/** How far a pin is drawn about its place, mm. */
const PIN = 0.9;

/**
 * The lace, ribbon and cloth of the elements, in mm.
 * @param {import("./types.js").Element[]} elements
 */
export function areasOf(elements) {
  const all = elements.flatMap(({ areas }) => areas.map((area) => ({ ...area, d: ringsPath(area.rings) })));
  return svg`<defs><pattern id="net" width="3" height="3" patternUnits="userSpaceOnUse"><path class="net" d="M0 0L3 3M3 0L0 3"></path></pattern></defs>
    ${all.map(({ material, d }) => svg`<path class="laid ${material}" fill-rule="evenodd" d=${d}></path>
      ${material === "lace" ? svg`<path fill="url(#net)" fill-rule="evenodd" d=${d}></path>` : nothing}`)}`;
}

/**
 * The lines and pins of the elements, in mm.
 * @param {import("./types.js").Element[]} elements
 */
export function linesOf(elements) {
  const pins = elements.flatMap((element) => element.pins);
  return svg`${elements.map((element) => element.lines.map((line) => svg`<path class="line ${line.role}" d=${linePath(line.points, line.closed)}></path>`))}
    <path class="pins" d=${pins.map(([x, y]) => `M${x - PIN} ${y}h${2 * PIN}M${x} ${y - PIN}v${2 * PIN}`).join("")}></path>`;
}

/**
 * The parts as things to choose, in mm: their outlines, with a hull about the chosen ones.
 * @param {Part[]} parts
 * @param {string[]} chosen
 * @param {Units} units
 */
export function hits(parts, chosen, units) {
  return svg`${repeat(parts, (part) => part.name, (part) => {
    const is = chosen.includes(part.name);
    const [w, h] = [part.bounds[2] - part.bounds[0], part.bounds[3] - part.bounds[1]].map((v) => showLength(v, units));
    const { rings, hull } = pathsOf(part.outline);
    const about = part.at ? hull : rings; // a hull says nothing of what winds along a line
    return svg`<g class="part ${is ? "chosen" : ""}" data-part=${part.name} data-of=${part.name} tabindex="0" role="button" aria-pressed=${is} aria-label="${part.name}, ${w} by ${h}">
      <path class="reach" d=${rings}></path><path class="hull" d=${about}></path></g>`;
  })}`;
}
