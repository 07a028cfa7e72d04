/** What the proof draws on the sheet: the places of findings, and how far two hoopings may miss each other. */

import { nothing, svg } from "../vendor/lit/index.js";
import { ellipse } from "../reckon/shapes.js";
import { centredOn, toScreen } from "../reckon/view.js";
import { sealOf, sealShape, wordOf } from "../seal.js";

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../reckon/view.js").View} View */

/** How many times life the ovals are drawn at most, so that tenths of a millimetre can be seen. */
export const MAGNIFIED = 12;
/** px of the longer half of an oval that is enough to see it. */
const ENOUGH = 14;
/** px from an oval's middle to its figure, and how much room a figure takes. */
const OUT = 46;
const ROOM = [76, 26];
/** px from the place of a finding up to its mark. */
const PIN = 34;

/**
 * Ovals at the meetings, with their figures where there is room: the least sure first.
 * @param {Store} store
 * @param {View} view
 * @param {Spot[]} pins px, where findings are marked
 */
export function meetings(store, view, pins) {
  const { found, panel, cloth, meeting } = store;
  if (!found || !cloth) return nothing;
  const here = found.meetings.map((m, index) => ({ m, index })).filter(({ m }) => m.panel === panel);
  const middle = toScreen(view, [cloth.size[0] / 2, cloth.size[1] / 2]);
  const taken = pins.map(([x, y]) => /** @type {Spot} */ ([x, y - PIN]));
  const worstFirst = [...here].sort((a, b) => b.m.across_sd - a.m.across_sd);
  const figures = worstFirst.flatMap(({ m, index }) => {
    const at = toScreen(view, m.at);
    const ways = [outward(at, middle, OUT), outward(at, middle, -OUT)];
    const free = ways.find((way) => taken.every(([x, y]) => Math.abs(x - way[0]) > ROOM[0] || Math.abs(y - way[1]) > ROOM[1]));
    const to = free ?? (index === meeting ? ways[0] : null);
    if (!to) return [];
    taken.push(to);
    return [figure(at, to, m.within)];
  });
  return svg`${figures}${here.map(({ m, index }) => oval(store, view, m, index))}`;
}

/**
 * @param {Store} store
 * @param {View} view
 * @param {import("../types.js").Meeting} m
 * @param {number} index
 */
function oval(store, view, m, index) {
  const { long, short, turn } = ellipse(m.covariance);
  const k = view.scale;
  const times = k * Math.min(MAGNIFIED, Math.max(1, ENOUGH / (k * long)));
  const [x, y] = toScreen(view, m.at);
  const look = (/** @type {Event} */ event) => looked(store, m, index, event);
  const key = (/** @type {KeyboardEvent} */ event) => {
    if (event.key === "Enter" || event.key === " ") look(event);
    else if (event.key === "Escape") store.set({ meeting: -1 });
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return svg`<g class="meeting ${index === store.meeting ? "chosen" : ""}" data-meeting=${index} transform="translate(${x} ${y})" tabindex="0" role="button" aria-pressed=${index === store.meeting} aria-label=${m.told}
    @focus=${look} @click=${look} @keydown=${key}>
    <circle class="reach" r="22"></circle><ellipse class="misfit" rx=${long * times} ry=${short * times} transform="rotate(${turn})"></ellipse></g>`;
}

/**
 * Tells of a meeting, and brings it into the window where it lies outside.
 * @param {Store} store
 * @param {import("../types.js").Meeting} m
 * @param {number} index
 * @param {Event} event
 */
function looked(store, m, index, event) {
  const sheet = /** @type {import("../sheet.js").FestoonSheet | null} */ (/** @type {Element} */ (event.currentTarget).closest("festoon-sheet"));
  const at = sheet && toScreen(sheet.view, m.at);
  if (sheet && at && at.some((px, n) => px < 0 || px > sheet.box[n])) sheet.see(centredOn(m.at, sheet.box, sheet.view.scale));
  store.set({ meeting: index });
}

/**
 * @param {Spot} at
 * @param {Spot} to
 * @param {string} told
 */
function figure(at, to, told) {
  return svg`<g class="within" aria-hidden="true"><path class="pointer" d="M${at[0]} ${at[1]}L${to[0]} ${to[1]}"></path><text x=${to[0]} y=${to[1]} text-anchor="middle" dominant-baseline="middle">${told}</text></g>`;
}

/**
 * So far from the middle of the cloth, or towards it.
 * @param {Spot} at
 * @param {Spot} middle
 * @param {number} by px
 * @returns {Spot}
 */
function outward([x, y], middle, by) {
  const [dx, dy] = [x - middle[0], y - middle[1]];
  const far = Math.hypot(dx, dy) || 1;
  return [x + (by * dx) / far, y + (by * dy) / far];
}

/**
 * The places of findings, the worst drawn over the others.
 * @param {Store} store
 * @param {View} view
 * @param {number[]} indices of the findings that have a mark
 */
export function places(store, view, indices) {
  const { found, panel, shown } = store;
  return [...indices].reverse().map((index) => {
    const finding = found?.findings[index];
    if (!finding?.where.at || finding.where.panel !== panel) return nothing;
    const [x, y] = toScreen(view, finding.where.at);
    const chosen = index === shown;
    return svg`<g class="place ${sealOf(finding.verdict)} ${chosen ? "chosen" : ""} ${finding.accepted ? "let-be" : ""}" transform="translate(${x} ${y})"
      @click=${() => store.show(index)}><title>${finding.accepted ? "Accepted" : wordOf(finding.verdict)}: ${finding.reason}</title>
      ${chosen ? svg`<circle class="ring" r="26"></circle>` : nothing}
      <path class="pointer" d="M0 0 0-24"></path><circle class="spot" r="3"></circle>
      <g class="on-sheet" transform="translate(0 ${-PIN}) scale(.9)">${sealShape(finding.accepted ? "sound" : finding.verdict)}</g></g>`;
  });
}

