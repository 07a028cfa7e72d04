/** What a stage of the work is to the page. */

/** @typedef {import("../store.js").Store} Store */
/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../reckon/view.js").View} View */

/**
 * What a hand does on the sheet in this stage. Each method that may take a press or a key says whether it did; what it
 * does not take moves the sheet.
 * @typedef {object} Hand
 * @property {(event: PointerEvent, at: Spot) => boolean} down `at` in px of the sheet
 * @property {(event: PointerEvent, at: Spot) => void} moved the press that it took
 * @property {(event: PointerEvent, at: Spot) => void} up
 * @property {() => void} letGo puts everything back: Escape, a second finger, a refused change
 * @property {(event: KeyboardEvent) => boolean} key
 * @property {(view: View) => unknown} over what it draws over everything
 * @property {() => unknown} slip what its slip of paper says
 * @property {(part: import("../types.js").Part) => import("../reckon/carry.js").Carry | null} [carried] how a part is just
 *   being moved and turned; left out where the hand moves no thread
 * @property {boolean} busy whether something is just being moved
 */

/**
 * @typedef {object} Stage
 * @property {string} id in the address
 * @property {import("../server.js").Work | null} needs what must be worked out for it
 * @property {(store: Store) => unknown} [ledger] the ledger page
 * @property {(store: Store) => unknown} [waiting] the ledger page while what it needs is being worked out; gives nothing for the
 *   usual one
 * @property {(store: Store) => unknown} [drawer] what lies at the left of the sheet
 * @property {(store: Store) => unknown} [place] what lies in the sheet's place, beside the ledger
 * @property {(store: Store) => unknown} [whole] the whole page, in place of sheet and ledger
 * @property {(sheet: import("../sheet.js").FestoonSheet) => unknown} [between] what lies on the thread, under the lines
 * @property {(sheet: import("../sheet.js").FestoonSheet) => unknown} [aside] what lies over everything, beside the hand's slip
 * @property {(store: Store, view: View) => unknown} [over] SVG over everything
 * @property {(store: Store) => unknown} [hint] the line below the sheet
 * @property {(store: Store, part: import("../types.js").Part) => number} [strength] how opaque a part's thread is, 0 to 1
 * @property {(sheet: import("../sheet.js").FestoonSheet) => Hand} [hand]
 */
export {};
