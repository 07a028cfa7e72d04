/** The worker's own say in the division: which words of the piece file keep a field where it is, or a block in it. */

/** @typedef {import("../types.js").Spot} Spot */
/** @typedef {import("../types.js").Laid} Laid */
/** @typedef {import("../types.js").Hooping} Hooping */
/** @typedef {import("../types.js").Part} Part */

/** Decimals of places and turns that are kept: those of the record of the hoopings. */
const KEPT = 1000;

/**
 * What is her own of a hooping; null where the division chose it.
 * @param {Laid[]} laid
 * @param {Hooping} hooping
 * @returns {Laid | null}
 */
export function ownOf(laid, hooping) {
  return hooping.laid === null ? null : laid[hooping.laid] ?? null;
}

/**
 * With the hooping's field kept at a place.
 * @param {Laid[]} laid
 * @param {Hooping} hooping
 * @param {Spot} at
 * @param {number} turn
 * @param {boolean} several whether the piece has several panels
 */
export function fieldKept(laid, hooping, at, turn, several) {
  return changed(laid, hooping, several, (own) => ({ ...own, at: at.map(told), turn: told(turn) }));
}

/**
 * With the hooping's field free to lie where it holds best what is sewn in it.
 * @param {Laid[]} laid
 * @param {Hooping} hooping
 */
export function fieldFreed(laid, hooping) {
  return changed(laid, hooping, false, ({ at: _at, turn: _turn, ...own }) => own);
}

/**
 * With blocks held in the hooping, and in no other.
 * @param {Laid[]} laid
 * @param {Hooping} hooping
 * @param {string[]} names of blocks
 * @param {boolean} several
 */
export function blocksHeld(laid, hooping, names, several) {
  const own = ownOf(laid, hooping);
  const others = laid.map((one) => (one === own ? one : without(one, names)));
  const held = changed(others, hooping, several, (one) => ({ ...one, holds: [...new Set([...(one.holds ?? []), ...names])] }));
  return held.filter(says);
}

/**
 * With a block no longer held in the hooping.
 * @param {Laid[]} laid
 * @param {Hooping} hooping
 * @param {string} name of the block
 */
export function blockFreed(laid, hooping, name) {
  return changed(laid, hooping, false, (own) => ({ ...own, holds: own.holds?.filter((held) => held !== name) }));
}

/**
 * Without anything of her own in the hooping.
 * @param {Laid[]} laid
 * @param {Hooping} hooping
 */
export function letGo(laid, hooping) {
  return laid.filter((_, index) => index !== hooping.laid);
}

/**
 * @param {Laid[]} laid
 * @param {Hooping} hooping
 * @param {boolean} several
 * @param {(own: Laid) => Laid} change
 */
function changed(laid, hooping, several, change) {
  const index = hooping.laid ?? laid.length;
  const next = without(change(laid[index] ?? (several ? { panel: hooping.record.panel } : {})), []);
  const all = [...laid];
  all.splice(index, 1, ...(says(next) ? [next] : []));
  return all;
}

/** Whether it says where its field lies, or what is sewn in it. @param {Laid} own */
const says = (own) => Boolean(own.at ?? own.holds?.length);

/**
 * Holding none of these names, and no empty list.
 * @param {Laid} own
 * @param {string[]} names
 * @returns {Laid}
 */
function without(own, names) {
  if (own.holds?.length && !own.holds.some((name) => names.includes(name))) return own;
  const { holds, ...rest } = own;
  const left = holds?.filter((name) => !names.includes(name)) ?? [];
  return left.length ? { ...rest, holds: left } : rest;
}

/** @param {number} value */
function told(value) {
  return Math.round(value * KEPT) / KEPT;
}

/**
 * Her order of work with a hooping sewn one sooner or later: the first block of each hooping of its panel. `order` is null
 * where that cannot be, and `bar` says why.
 * @param {Hooping[]} hoopings in order
 * @param {Hooping} hooping
 * @param {-1 | 1} way sooner or later
 * @returns {{order: string[] | null, bar: string}}
 */
export function orderWith(hoopings, hooping, way) {
  const here = hoopings.filter((h) => h.record.panel === hooping.record.panel);
  const other = here[here.indexOf(hooping) + way];
  if (!other) return { order: null, bar: way < 0 ? "It is the first." : "It is the last." };
  const [later, first] = way < 0 ? [hooping, other] : [other, hooping];
  if (later.record.after.includes(first.record.number)) return { order: null, bar: `Hooping ${later.record.number} lies over ${first.record.number}.` };
  const order = here.map((one) => (one === hooping ? other : one === other ? hooping : one).blocks[0].name);
  return { order, bar: "" };
}

/**
 * Blocks of other hoopings that may share a field with what a hooping holds, the nearest first: as far as their boxes can
 * tell, so that where the hoop may be turned otherwise than by quarters one that is offered may not fit.
 * @param {Hooping[]} hoopings
 * @param {Hooping} hooping
 * @param {string[]} held names of its blocks that stay in it
 * @param {Part[]} parts
 * @param {string | number[]} turn how the hoop may be turned
 */
export function mayJoin(hoopings, hooping, held, parts, turn) {
  const bounds = new Map(parts.map((part) => [part.name, part.bounds]));
  const own = hooping.blocks.filter((block) => held.includes(block.name)).flatMap((block) => {
    const box = bounds.get(block.part);
    return box ? [box] : [];
  });
  const [w, h] = hooping.record.field;
  return hoopings
    .filter((other) => other !== hooping && other.record.panel === hooping.record.panel)
    .flatMap((other) => other.blocks)
    .flatMap((block) => {
      const box = bounds.get(block.part);
      if (!box || block.name !== block.part) return [];
      const all = [...own, box];
      const across = Math.max(...all.map((b) => b[2])) - Math.min(...all.map((b) => b[0]));
      const down = Math.max(...all.map((b) => b[3])) - Math.min(...all.map((b) => b[1]));
      const upright = across <= w && down <= h;
      const fits = turn === "square" ? upright : turn === "quarter" ? upright || (across <= h && down <= w) : Math.hypot(across, down) <= Math.hypot(w, h);
      return fits ? [{ block, far: Math.hypot(across, down) }] : [];
    })
    .sort((a, b) => a.far - b.far)
    .map(({ block }) => block);
}

/**
 * The largest of a hooping's blocks, about which others may be gathered.
 * @param {Hooping} hooping
 * @param {Part[]} parts
 */
export function largest(hooping, parts) {
  const area = (/** @type {string} */ name) => {
    const box = parts.find((part) => part.name === name)?.bounds;
    return box ? (box[2] - box[0]) * (box[3] - box[1]) : 0;
  };
  return [...hooping.blocks].sort((a, b) => area(b.part) - area(a.part))[0].name;
}
