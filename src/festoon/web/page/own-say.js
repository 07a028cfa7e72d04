/** What the worker lays, holds and orders herself, said to the piece; afterwards the page looks at the same hooping again. */

import { fieldKept } from "./reckon/own-say.js";

/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("./types.js").Hooping} Hooping */
/** @typedef {import("./types.js").Spot} Spot */

/** Whether the piece has several panels. @param {Store} store */
export const several = (store) => (store.piece?.panels.length ?? 0) > 1;

/**
 * Words of [hooping] given new values, all as one change; an empty list takes its word out. Gives whether that was done.
 * @param {Store} store
 * @param {string} label
 * @param {Record<string, unknown>} words
 * @param {Hooping} [hooping] the one to look at again
 */
export async function say(store, label, words, hooping) {
  if (hooping && store.division?.revision !== store.piece?.revision) {
    store.say("It is being divided anew. Try again in a moment.");
    return false;
  }
  const edits = Object.entries(words).map(([word, value]) => {
    const empty = Array.isArray(value) && !value.length;
    return /** @type {import("./types.js").Edit} */ ({ do: "piece", table: "hooping", word, value: empty ? null : value });
  });
  const done = await store.change(label, edits);
  if (done && hooping) follow(store, hooping);
  return done;
}

/**
 * The hooping's field laid at a place. Gives whether that was done.
 * @param {Store} store
 * @param {Hooping} hooping
 * @param {Spot} at
 * @param {number} turn
 * @param {string} label
 */
export async function laidAt(store, hooping, at, turn, label) {
  return say(store, label, { laid: fieldKept(store.piece?.dividing.laid ?? [], hooping, at, turn, several(store)) }, hooping);
}

/**
 * Once the new division is there, looks at the hooping that is now what this one was: laid as the same, or with most of its
 * blocks.
 * @param {Store} store
 * @param {Hooping} hooping
 */
function follow(store, hooping) {
  const revision = store.piece?.revision;
  const names = new Set(hooping.blocks.map((block) => block.name));
  const arrived = () => {
    if (store.piece?.revision !== revision || store.trouble) store.removeEventListener("change", arrived);
    else if (store.division) {
      store.removeEventListener("change", arrived);
      const same = (/** @type {Hooping} */ one) => one.blocks.filter((block) => names.has(block.name)).length;
      const now = store.division.hoopings.find((one) => one.laid !== null && one.laid === hooping.laid) ?? [...store.division.hoopings].sort((a, b) => same(b) - same(a))[0];
      if (now && now.record.number !== store.hooping) store.look(now.record.number);
    }
  };
  store.addEventListener("change", arrived);
}
