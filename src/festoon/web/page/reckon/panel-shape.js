/** The shapes that a panel may be given, and the edits that give it one which fits its block of cloth. */

/** @typedef {import("../types.js").Panel} Panel */
/** @typedef {import("../types.js").Edit} Edit */

export const SHAPES = ["rectangle", "flared", "circle", "ring"];
/** The words of the piece file that give a panel its shape. @type {Record<string, string>} */
const WORDS = { flared: "flared", circle: "circle", ring: "ring", outline: "cut", pattern: "file" };
const OPENS = 60;
/** How much of its block a new shape takes. */
const SHARE = 0.8;

/**
 * Another shape for a panel, on the block of cloth that it has.
 * @param {Panel} panel
 * @param {string} shape
 * @returns {Edit[]}
 */
export function shaped(panel, shape) {
  if (shape === panel.shape) return [];
  /** @param {string} word @param {unknown} value @returns {Edit} */
  const set = (word, value) => ({ do: "panel", panel: panel.name, word, value });
  const before = WORDS[panel.shape];
  return [...(before ? [set("size", panel.size), set(before, null)] : []), ...(shape in WORDS ? [set(WORDS[shape], measures(shape, panel))] : [])];
}

/**
 * @param {string} shape
 * @param {Panel} panel
 */
function measures(shape, { size, seam }) {
  const [w, h] = size.map((side) => SHARE * side - 2 * seam);
  const across = Math.max(Math.floor(Math.min(w, h)), 30);
  if (shape === "circle") return { diameter: across };
  if (shape === "ring") return { inner: Math.floor(across / 3), outer: across };
  // a third of the hem's radius at the waist: as wide as 2R·sin 30°, as high as R - R/3·cos 30° (handbook: sector of a ring)
  const hem = Math.max(Math.floor(Math.min(w, h / (1 - Math.cos(Math.PI / 6) / 3))), 30);
  return { waist_radius: Math.floor(hem / 3), hem_radius: hem, angle: OPENS };
}
