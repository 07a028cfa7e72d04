/** What the hand may have hold of on the sheet: each grip follows the pointer or the keys, and comes to a change. */

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Part} Part */
/** @typedef {import("../reckon/view.js").View} View */

/**
 * @typedef {object} Grip
 * @property {(now: Spot, free: boolean) => void} moved to `now` in px of the sheet; `free` of everything it would lean to
 * @property {() => import("../store.js").Change | null} change what it comes to; null for nothing
 * @property {(view: View) => unknown} over what it draws, besides the handles
 * @property {() => unknown} slip what the slip of paper says
 * @property {(part: Part) => import("../reckon/carry.js").Carry | null} [carried]
 * @property {(up: import("../types.js").Part | null) => void} [dropped] for what comes to no change of the piece: it was let go
 *   over this part, or over none
 * @property {number} [degrees] that the element is turned by now
 * @property {{handle: import("../types.js").Handle, at: Spot, value: number}} [pull] the handle that it has, and where that is now
 * @property {(step: Spot, far: boolean) => void} [step] by an arrow key: mm right and down
 */
export {};
