/** What is reckoned beside the machine: where the work is, and readings as they are typed. */

import { MM_PER_INCH, plainNumber, readLength } from "./length.js";

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Units} Units */
/** @typedef {import("../types.js").BenchHooping} BenchHooping */
/** @typedef {import("../types.js").BenchStep} BenchStep */
/**
 * A cross as it is being read: how far sideways and how far up or down as typed, and which way each.
 * @typedef {{across: string, right: boolean, along: string, up: boolean}} Entry
 * @typedef {"across" | "along"} Blank
 * @typedef {{cross: string, blank: Blank, told: string}} Missing
 * @typedef {{readings: Record<string, Spot>, missing: Missing | null, wrong: Missing[], begun: boolean}} Reading
 */

/** Crosses that must be read: one cannot tell a turn from a shift. */
export const LEAST = 2;

/** How much farther off than in truth a cross is drawn, and the farthest, mm: else it could not be seen (by eye). */
export const DRAWN_AS = 6;
export const DRAWN_MOST = 14;

/** @returns {Entry} */
export const emptyEntry = () => ({ across: "", right: true, along: "", up: true });

/**
 * The first step that is not done; where all are, the last.
 * @param {BenchStep[]} steps
 */
export const stepNow = (steps) => steps.find((step) => !step.done) ?? steps[steps.length - 1];

/** Whether all of a hooping is done. @param {BenchHooping} hooping */
export const finished = (hooping) => hooping.steps.every((step) => step.done);

/**
 * How far a blank says, mm: null where nothing is typed, NaN where it is no length.
 * @param {string} text
 * @param {Units} units
 */
function typed(text, units) {
  return text.trim() ? readLength(text, units) : null;
}

/**
 * What is typed of all crosses, in their order: the readings that are whole, the first thing that is missing, and what is
 * no length. A cross of which nothing is typed may be left out, so long as LEAST are read.
 * @param {string[]} crosses
 * @param {Record<string, Entry>} entries
 * @param {Units} units
 * @returns {Reading}
 */
export function readingOf(crosses, entries, units) {
  /** @type {Reading} */
  const found = { readings: {}, missing: null, wrong: [], begun: false };
  /** @type {Missing[]} */
  const half = [];
  /** @type {Missing[]} */
  const unread = [];
  for (const cross of crosses) {
    const entry = entries[cross] ?? emptyEntry();
    const across = typed(entry.across, units);
    const along = typed(entry.along, units);
    if (Number.isNaN(across)) found.wrong.push({ cross, blank: "across", told: `Cross ${cross}: how far right or left is no length` });
    if (Number.isNaN(along)) found.wrong.push({ cross, blank: "along", told: `Cross ${cross}: how far up or down is no length` });
    found.begun ||= across !== null || along !== null;
    if (across === null && along === null) unread.push({ cross, blank: "across", told: `Read cross ${cross}` });
    else if (across === null) half.push({ cross, blank: "across", told: `Cross ${cross}: how far right or left?` });
    else if (along === null) half.push({ cross, blank: "along", told: `Cross ${cross}: how far up or down?` });
    else if (!Number.isNaN(across + along)) found.readings[cross] = [plain(entry.right ? across : -across), plain(entry.up ? -along : along)];
  }
  const read = Object.keys(found.readings).length;
  found.missing = half[0] ?? (read < LEAST && !found.wrong.length ? bothOf(unread, LEAST - read) : null);
  return found;
}

/** No minus before nought. @param {number} mm */
const plain = (mm) => mm + 0;

/**
 * The first of the unread crosses, told with the next where two are wanted.
 * @param {Missing[]} unread
 * @param {number} wanted
 */
function bothOf(unread, wanted) {
  if (!unread.length) return null;
  const names = unread.slice(0, wanted).map(({ cross }) => cross);
  return { ...unread[0], told: `Read cross${names.length > 1 ? "es" : ""} ${names.join(" and ")}` };
}

/**
 * Entries that say what was read.
 * @param {Record<string, Spot>} readings
 * @param {Units} units
 * @returns {Record<string, Entry>}
 */
export function entriesOf(readings, units) {
  const said = (/** @type {number} */ mm) => (units === "mm" ? plainNumber(Math.abs(mm), 3) : plainNumber(Math.abs(mm) / MM_PER_INCH, 4));
  return Object.fromEntries(Object.entries(readings).map(([name, [x, y]]) => [name, { across: said(x), right: x >= 0, along: said(y), up: y <= 0 }]));
}

/**
 * By how much a cross is drawn off its place, in the hoop's mm: farther than in truth, so that its way shows.
 * @param {Spot | undefined} off
 * @returns {Spot}
 */
export function drawnOff(off) {
  if (!off) return [0, 0];
  const far = Math.hypot(...off);
  const share = far ? Math.min(DRAWN_AS * far, DRAWN_MOST) / far : 0;
  return [off[0] * share, off[1] * share];
}

/**
 * Where the hoop lies on its panel: the corners of its field, the upper side first.
 * @param {BenchHooping} hooping
 * @returns {Spot[]}
 */
export function fieldOn({ hoop, centre, turn }) {
  const angle = (turn * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const [w, h] = [hoop.field[0] / 2, hoop.field[1] / 2];
  const corners = /** @type {Spot[]} */ ([[-w, -h], [w, -h], [w, h], [-w, h]]);
  return corners.map(([u, v]) => [centre[0] + c * u - s * v, centre[1] + s * u + c * v]);
}
