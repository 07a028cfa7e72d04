/** Lengths as people write them: millimetres, and inches with fractions. */

export const MM_PER_INCH = 25.4;
const SIXTEENTHS = 16;
/** mm by which a length may differ from a sixteenth of an inch and be told as one: half of what millimetres show. */
const EXACT = 0.05;
/** mm that an arrow key changes a length by, and with Shift: on the sheet and in a blank alike. */
export const STEPS = { mm: [0.5, 5], inch: [MM_PER_INCH / 16, MM_PER_INCH / 2] };
/** Decimals that a blank shows: a satin's 0.45 mm shall not read 0.5. */
export const FINE = 2;

/** @type {Record<string, number>} */
const UNITS = { mm: 1, cm: 10, m: 1000, in: MM_PER_INCH, inch: MM_PER_INCH, inches: MM_PER_INCH, '"': MM_PER_INCH, "″": MM_PER_INCH };
/** @type {Record<string, string>} */
const GLYPHS = { "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3" };

/**
 * A number as typed: "42", "1,5", "1.5", "1 5/8", "1⅝", "-3"; NaN where it is none.
 * @param {string} text
 */
export function readNumber(text) {
  const plain = text.trim().replace("−", "-").replace(/[½¼¾⅛⅜⅝⅞⅓⅔]/, (glyph) => ` ${GLYPHS[glyph]}`);
  const found = /^([+-]?)\s*(?:(\d+(?:[.,]\d+)?|[.,]\d+)(?:\s+(\d+)\/(\d+))?|(\d+)\/(\d+))$/.exec(plain);
  if (!found) return NaN;
  const [, sign, whole, over, under, top, bottom] = found;
  const fraction = over ? Number(over) / Number(under) : top ? Number(top) / Number(bottom) : 0;
  const size = (whole ? Number(whole.replace(",", ".")) : 0) + fraction;
  return Number.isFinite(size) ? (sign === "-" ? -size : size) : NaN;
}

/**
 * A length as typed, in mm; NaN where it is none. Without a unit it is in `units`.
 * @param {string} text
 * @param {import("../types.js").Units} units
 */
export function readLength(text, units) {
  const found = /^(.*?)\s*(mm|cm|m|inches|inch|in|"|″)?$/i.exec(text.trim());
  if (!found) return NaN;
  return readNumber(found[1]) * UNITS[found[2]?.toLowerCase() ?? (units === "mm" ? "mm" : "in")];
}

/**
 * The number of a length in `units`, without the unit: "42.5", "1 5/8"; "0.02" where no sixteenth is near.
 * @param {number} mm
 * @param {import("../types.js").Units} units
 * @param {number} [places] decimals; inches have one more
 */
export function lengthNumber(mm, units, places = 1) {
  if (units === "mm") return plainNumber(mm, places);
  const steps = Math.round((mm / MM_PER_INCH) * SIXTEENTHS);
  if (Math.abs(mm - (steps * MM_PER_INCH) / SIXTEENTHS) > EXACT) return plainNumber(mm / MM_PER_INCH, places + 1);
  const whole = Math.floor(Math.abs(steps) / SIXTEENTHS);
  let [over, under] = [Math.abs(steps) % SIXTEENTHS, SIXTEENTHS];
  while (over && over % 2 === 0) [over, under] = [over / 2, under / 2];
  const told = [whole || !over ? `${whole}` : "", over ? `${over}/${under}` : ""].filter(Boolean).join(" ");
  return steps < 0 ? `-${told}` : told;
}

/**
 * A length with its unit: "42.5 mm", "1 5/8 in".
 * @param {number} mm
 * @param {import("../types.js").Units} units
 */
export function showLength(mm, units) {
  return `${lengthNumber(mm, units)} ${unitWord(units)}`;
}

/** @param {import("../types.js").Units} units */
export function unitWord(units) {
  return units === "mm" ? "mm" : "in";
}

/**
 * A number to so many decimals, without zeros at the end.
 * @param {number} value
 * @param {number} places
 */
export function plainNumber(value, places) {
  const told = value.toFixed(places);
  return (places ? told.replace(/\.?0+$/, "") : told).replace(/^-0$/, "0");
}
