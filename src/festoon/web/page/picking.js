/** Pointing things out on the sheet, one after the other: the parts a join links, a place, a line to follow. */

/** @typedef {import("./types.js").Spot} Spot */
/** @typedef {{word: string, told: string, wants: "part" | "place" | "line"}} Wanted `told`: how it is asked for */

/**
 * What is being pointed out: `words` in order; `got` what has been, by word: a part's name, a place in mm, a line's name.
 * `done` is told once all is got; Escape ends it untold.
 * @typedef {object} Picking
 * @property {string} kind of element that is begun
 * @property {string} told what it is: "a join"
 * @property {Wanted[]} words
 * @property {Record<string, string | Spot>} got
 * @property {(got: Record<string, string | Spot>) => void} done
 */

/**
 * The next thing to point out; null where all is got.
 * @param {Picking | null} picking
 */
export function wanted(picking) {
  return picking?.words.find(({ word }) => !(word in picking.got)) ?? null;
}

/**
 * Takes in what was pointed out; the last thing ends the picking.
 * @param {import("./store.js").Store} store
 * @param {string | Spot} found
 */
export function pick(store, found) {
  const { picking } = store;
  const next = wanted(picking);
  if (!picking || !next || Object.values(picking.got).includes(found)) return;
  const got = { ...picking.got, [next.word]: found };
  const more = { ...picking, got };
  if (wanted(more)) store.set({ picking: more });
  else {
    store.set({ picking: null });
    picking.done(got);
  }
}
