/** Stitch files brought in: what the new elements are called, and where they are set on the cloth. */

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Bounds} Bounds */
/** @typedef {import("../types.js").Edit} Edit */
/** @typedef {import("../types.js").Piece} Piece */
/** @typedef {{file: string, size: Spot}} Brought a stitch file within the piece, and its width and height, mm */

/** mm kept free between what is brought in and what lies there (own choice). */
const APART = 4;
/** mm from one place that is tried to the next (own choice). */
const STEP = 10;
/** Places tried along one side of the cloth, from where the motif is wanted each way (own choice). */
const MOST_STEPS = 60;
/** Letters of a name that the piece file takes. */
const LONGEST = 60;

/**
 * What lays motifs on a panel, each beside the others and beside what lies there, as near as may be to `at`.
 * @param {Brought[]} motifs
 * @param {Piece} piece
 * @param {string} panel
 * @param {Spot | null} at where the first shall stand, mm; null: the middle
 * @returns {Edit[]}
 */
export function laying(motifs, piece, panel, at) {
  const cloth = piece.panels.find(({ name }) => name === panel);
  if (!cloth) return [];
  const names = [...piece.elements, ...piece.parts].map(({ name }) => name);
  const taken = piece.parts.filter((part) => part.panel === panel).map(({ bounds }) => bounds);
  return motifs.map(({ file, size }, n) => {
    const name = freeName(file, names);
    const place = n === 0 && at ? within(at, size, cloth.size) : freePlace(size, cloth.size, taken, at ?? middle(cloth.size));
    names.push(name);
    taken.push(about(place, size));
    const element = { kind: "motif", name, ...(piece.panels.length > 1 ? { panel } : {}), file, at: place };
    return { do: "add", element };
  });
}

/**
 * A name for the element of a stitch file that no other bears: "motifs/Rose_01.dst" gives "Rose_01", then "Rose_01 2".
 * @param {string} file
 * @param {string[]} taken
 */
export function freeName(file, taken) {
  const stem = file.split("/").pop()?.replace(/\.[^.]*$/, "") ?? "";
  const plain = stem.normalize("NFC").replace(/[^\p{L}\p{N} _-]+/gu, " ").replace(/-(?=\d+$)/, " ").replace(/\s+/g, " ").replace(/^[ _-]+|[ _-]+$/g, "");
  const base = plain.slice(0, LONGEST - 4).trim() || "motif";
  const known = new Set(taken.map((name) => name.toLowerCase()));
  for (let n = 1; ; n += 1) {
    const name = n === 1 ? base : `${base} ${n}`;
    if (!known.has(name.toLowerCase())) return name;
  }
}

/**
 * The place nearest to `wanted` at which a motif of this size lies on the cloth and on nothing else; where there is none,
 * the place on the cloth that is nearest to it.
 * @param {Spot} size
 * @param {Spot} cloth
 * @param {Bounds[]} taken
 * @param {Spot} wanted
 * @returns {Spot}
 */
export function freePlace(size, cloth, taken, wanted) {
  const first = within(wanted, size, cloth);
  /** @type {Spot[]} */
  const places = steps(first[0], size[0], cloth[0]).flatMap((x) => steps(first[1], size[1], cloth[1]).map((y) => /** @type {Spot} */ ([x, y])));
  const far = /** @param {Spot} place */ (place) => Math.hypot(place[0] - first[0], place[1] - first[1]);
  return places.sort((a, b) => far(a) - far(b)).find((place) => taken.every((other) => !meet(about(place, size), other))) ?? first;
}

/**
 * The places along one side that are tried, so far from `from` that a motif of this length still lies on the cloth.
 * @param {number} from
 * @param {number} length
 * @param {number} side
 */
function steps(from, length, side) {
  const [back, on] = [from - length / 2, side - length / 2 - from].map((room) => Math.min(MOST_STEPS, Math.floor(Math.max(0, room) / STEP)));
  return Array.from({ length: back + on + 1 }, (_, n) => hundredth(from + (n - back) * STEP));
}

/**
 * A place moved so far that a motif of this size lies on the cloth; the middle where it is larger than that.
 * @param {Spot} at
 * @param {Spot} size
 * @param {Spot} cloth
 * @returns {Spot}
 */
function within(at, size, cloth) {
  const [x, y] = [0, 1].map((i) => {
    const half = size[i] / 2;
    return hundredth(size[i] > cloth[i] ? cloth[i] / 2 : Math.min(Math.max(at[i], Math.ceil(half * 100) / 100), Math.floor((cloth[i] - half) * 100) / 100));
  });
  return [x, y];
}

/**
 * @param {Spot} at
 * @param {Spot} size
 * @returns {Bounds}
 */
function about(at, size) {
  return [at[0] - size[0] / 2, at[1] - size[1] / 2, at[0] + size[0] / 2, at[1] + size[1] / 2];
}

/**
 * Whether two boxes come closer to each other than `APART`.
 * @param {Bounds} a
 * @param {Bounds} b
 */
function meet(a, b) {
  return a[0] < b[2] + APART && b[0] < a[2] + APART && a[1] < b[3] + APART && b[1] < a[3] + APART;
}

/** @param {Spot} size @returns {Spot} */
const middle = (size) => [size[0] / 2, size[1] / 2];

/** @param {number} mm */
const hundredth = (mm) => Math.round(mm * 100) / 100;
