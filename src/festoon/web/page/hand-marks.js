/** What the hand draws over the sheet with the pen, in px: measures, lines it leans to, handles. */

import { svg, nothing } from "./vendor/lit/index.js";
import { towards } from "./reckon/carry.js";
import { standsAt, turnOf } from "./reckon/edits.js";
import { distance, isLength, isRing } from "./reckon/handles.js";
import { plainNumber, showLength } from "./reckon/length.js";
import { linePath } from "./reckon/shapes.js";
import { toScreen } from "./reckon/view.js";
import { STRIP } from "./sheet-marks.js";

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {import("./types.js").Units} Units */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("./types.js").Element} Element */
/** @typedef {import("./types.js").Handle} Handle */
/** @typedef {import("./reckon/view.js").View} View */

/** px of a handle's reach: half of 44. */
const REACH = 22;
/** px that a measure of a move stands off it. */
const OFF = 26;
/** px from a part to its turning handle, and at the least from its place. */
const STEM = 26;
const NEAREST = 56;

/**
 * How far a place lies from the cloth's left and upper edge.
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
 * How far a place has been moved, across and down.
 * @param {View} view
 * @param {Spot} from
 * @param {Spot} at
 * @param {Units} units
 */
export function moveMeasures(view, from, at, units) {
  const [[x0, y0], [x, y]] = [toScreen(view, from), toScreen(view, at)];
  const [across, down] = [Math.abs(at[0] - from[0]), Math.abs(at[1] - from[1])];
  const below = Math.max(y0, y) + OFF;
  const beside = x < x0 ? Math.max(x0, x) + OFF : Math.min(x0, x) - OFF;
  return svg`<g class="measures" aria-hidden="true"><path class="was" d="M${x0 - 8} ${y0}h16M${x0} ${y0 - 8}v16"></path>
    ${across ? svg`<path class="pen-line" d="M${x0} ${below}H${x}M${x0} ${below - 6}v12M${x} ${below - 6}v12"></path>
      <path class="was" d="M${x0} ${y0}V${below}M${x} ${y}V${below}"></path>
      <text class="pen-text" text-anchor="middle" x=${(x0 + x) / 2} y=${below + 20}>${showLength(across, units)}</text>` : nothing}
    ${down ? svg`<path class="pen-line" d="M${beside} ${y0}V${y}M${beside - 6} ${y0}h12M${beside - 6} ${y}h12"></path>
      <path class="was" d="M${x0} ${y0}H${beside}M${x} ${y}H${beside}"></path>
      <text class="pen-text" text-anchor=${beside < x ? "end" : "start"} x=${beside + (beside < x ? -10 : 10)} y=${(y0 + y) / 2 + 5}>${showLength(down, units)}</text>` : nothing}</g>`;
}

/**
 * The lines to which something leans just now.
 * @param {View} view
 * @param {Spot} size of the cloth, mm
 * @param {import("./reckon/magnets.js").Held} held
 * @param {Spot} at
 */
export function leanings(view, size, held, at) {
  const [left, top] = toScreen(view, [0, 0]);
  const [right, bottom] = toScreen(view, size);
  const upright = held.x && view.x + view.scale * held.x.line;
  const level = held.y && view.y + view.scale * held.y.line;
  const [p, q] = held.axis ? [held.axis.through, at].map((spot) => toScreen(view, spot)) : [[0, 0], [0, 0]];
  return svg`<g class="measures" aria-hidden="true">
    ${upright === null ? nothing : svg`<path class="leaning" d="M${upright} ${top}V${bottom}"></path>`}
    ${level === null ? nothing : svg`<path class="leaning" d="M${left} ${level}H${right}"></path>`}
    ${held.axis ? svg`<path class="leaning" d="M${p[0]} ${p[1]}L${q[0]} ${q[1]}"></path>` : nothing}</g>`;
}

/**
 * The handle that turns an element, about the place of one of its parts.
 * @param {View} view
 * @param {Spot} box the window's size, px
 * @param {Part} part
 * @param {Spot} shift mm that it is just being moved by
 * @param {number} by degrees that it is just being turned by
 * @param {number} degrees how far it stands turned then, as the piece file says it
 * @param {string} element
 */
function turnHandle(view, box, part, shift, by, degrees, element) {
  const about = toScreen(view, moved(/** @type {Spot} */ (part.at), shift));
  const far = farOf(view, box, part);
  const [x, y] = towards(about, part.turn + by, far);
  const [fx, fy] = towards(about, part.turn + by, far - STEM);
  const [ax, ay] = towards(about, part.turn, far);
  const arc = by ? svg`<path class="pen-dash" d="M${about[0]} ${about[1]}L${ax} ${ay}"></path><path class="pen-line" d="M${ax} ${ay}A${far} ${far} 0 ${Math.abs(by) > 180 ? 1 : 0} ${by > 0 ? 1 : 0} ${x} ${y}"></path>` : nothing;
  const told = `${plainNumber(degrees, 1)}°`;
  return svg`<g>${arc}<path class="pen-line" d="M${fx} ${fy}L${x} ${y}"></path>
    <g class="handle" data-handle="turn" data-element=${element} tabindex="0" role="button" aria-label="Turn ${element}, now ${told}. Arrow keys turn it.">
      <circle class="reach" cx=${x} cy=${y} r=${REACH}></circle><circle class="grip" cx=${x} cy=${y} r="7"></circle></g>
    <text class="pen-text" x=${x + 14} y=${y + 5} aria-hidden="true">${told}</text></g>`;
}

/**
 * px from a part's place to its turning handle: beyond the part, but not far outside the window.
 * @param {View} view
 * @param {Spot} box
 * @param {Part} part
 */
function farOf(view, box, { at, bounds: [left, top, right, bottom] }) {
  const corners = /** @type {Spot[]} */ ([[left, top], [right, top], [right, bottom], [left, bottom]]);
  const reach = Math.max(...corners.map((corner) => distance(corner, /** @type {Spot} */ (at)))) * view.scale;
  return Math.max(NEAREST, Math.min(reach + STEM, Math.min(...box) / 2 - NEAREST));
}

/**
 * One of an element's handles; while it is dragged, with what it does: the way it bends, or how far it goes.
 * @param {View} view
 * @param {Element} element
 * @param {Handle} handle
 * @param {Spot} at where it is now
 * @param {string} told its length
 * @param {boolean} dragged
 */
function handleMark(view, element, handle, at, told, dragged) {
  const [x, y] = toScreen(view, at);
  const what = told ? `${handle.word.split(".").at(-1)} of ${element.name}, ${handle.name}, now ${told}` : `${handle.name} of ${element.name}`;
  return svg`<g>${dragged ? svg`<path class="pen-dash" d=${wayOf(view, element, handle, at)}></path>` : nothing}
    <g class="handle" data-handle=${handle.name} data-element=${element.name} tabindex="0" role="button" aria-label="${what}. Arrow keys move it.">
      <circle class="reach" cx=${x} cy=${y} r=${REACH}></circle><path class="grip" d="M${x} ${y - 8}l8 8-8 8-8-8z"></path></g>
    ${dragged && told ? svg`<text class="pen-text" x=${x + 14} y=${y + 5} aria-hidden="true">${told}</text>` : nothing}</g>`;
}

/**
 * The curve through a line's ends and the handle that bends it; else the way from the handle's place to where it is now.
 * @param {View} view
 * @param {Element} element
 * @param {Handle} handle
 * @param {Spot} at
 */
function wayOf(view, element, handle, at) {
  const points = element.lines.find((line) => line.label === handle.name)?.points ?? [];
  const [x, y] = toScreen(view, at);
  if (points.length < 2) return linePath([toScreen(view, handle.at), [x, y]], false);
  const [[ax, ay], [bx, by]] = [points[0], points[points.length - 1]].map((point) => toScreen(view, point));
  return `M${ax} ${ay}Q${2 * x - (ax + bx) / 2} ${2 * y - (ay + by) / 2} ${bx} ${by}`;
}

/**
 * How an element is set out: its own place, the way from there to the handle that widens it, and its parts in order.
 * @param {View} view
 * @param {Element} element
 * @param {Part[]} parts of it
 * @param {Spot} shift mm that it is just being moved by
 */
export function setOut(view, element, parts, shift) {
  const place = standsAt(element);
  const spots = parts.flatMap(({ at }) => (at ? [toScreen(view, moved(at, shift))] : []));
  if (!place || spots.length < 2) return nothing;
  const [x, y] = toScreen(view, moved(place, shift));
  const reaches = element.handles.filter(isLength).map((handle) => linePath([[x, y], toScreen(view, moved(handle.at, shift))], false));
  return svg`<g class="measures" aria-hidden="true"><path class="set-out" d=${linePath(spots, isRing(spots))}></path>
    <path class="set-out" d=${reaches.join("")}></path><path class="cross" d="M${x - 8} ${y}h16M${x} ${y - 8}v16"></path></g>`;
}

/**
 * All handles of an element, where they are just now: one that is held stays the same mark, and so keeps the focus.
 * @param {View} view
 * @param {Spot} box
 * @param {Element} element
 * @param {Part} part the one of it that is chosen
 * @param {Units} units
 * @param {import("./grips/grip.js").Grip | null} held
 * @param {string[]} siblings names of all its parts: a handle named as one of them belongs to that one
 */
export function handlesOf(view, box, element, part, units, held, siblings) {
  const turn = held?.degrees ?? turnOf(element);
  const carry = held?.carried?.(part);
  const shift = carry?.shift ?? /** @type {Spot} */ ([0, 0]);
  const several = element.handles.length > 1;
  const shown = element.handles.filter(({ name, word }) => (several || word !== "at") && (name === part.name || !siblings.includes(name)));
  return svg`${turn !== null && part.at ? turnHandle(view, box, part, shift, carry?.turn ?? 0, turn, element.name) : nothing}
    ${shown.map((handle) => {
      const own = held?.pull?.handle === handle ? held.pull : null;
      return handleMark(view, element, handle, own?.at ?? moved(handle.at, shift), isLength(handle) ? showLength(own?.value ?? handle.value, units) : "", own !== null);
    })}`;
}

/**
 * @param {Spot} spot
 * @param {Spot} by
 * @returns {Spot}
 */
function moved(spot, by) {
  return [spot[0] + by[0], spot[1] + by[1]];
}

/**
 * A line from a part to the pointer, while a second is being pointed out.
 * @param {Spot} from px
 * @param {Spot} to px
 */
export function linkMark([x, y], to) {
  return svg`<g class="measures" aria-hidden="true"><circle class="grip" cx=${x} cy=${y} r="5"></circle><path class="pen-dash" d="M${x} ${y}L${to[0]} ${to[1]}"></path></g>`;
}

/**
 * The parts that have been pointed out, and the lines that may be.
 * @param {View} view
 * @param {Part[]} parts
 * @param {Record<string, Spot[]>} lines
 */
export function pickMarks(view, parts, lines) {
  return svg`${parts.map(({ bounds: [left, top, right, bottom] }) => {
    const [[x, y], [x1, y1]] = [toScreen(view, [left, top]), toScreen(view, [right, bottom])];
    return svg`<rect class="picked" x=${x} y=${y} width=${x1 - x} height=${y1 - y} rx="6"></rect>`;
  })}
  ${Object.entries(lines).map(([name, points]) => {
    const d = linePath(points.map((point) => toScreen(view, point)), false);
    return svg`<g class="pickable" data-line=${name} tabindex="0" role="button" aria-label="line ${name}"><path class="line-reach" d=${d}></path><path class="pen-line" d=${d}></path></g>`;
  })}`;
}
