/** Small words and numbers as the page says them. */

const NUMBERS = ["none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** @param {number} n */
export const numberWord = (n) => NUMBERS[n] ?? `${n}`;

/** @param {string} text */
export const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {string[]} names */
export const listed = (names) => (names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`);

/** Names such as sprig-4 stay on one line: a hyphen that does not break. @param {string} name */
export const whole = (name) => name.replaceAll("-", "\u2011");

/** A refusal as it is read beside the work: without the line of the piece file. @param {string} sentence */
export const plainly = (sentence) => capital(sentence.replace(/^piece\.toml(?:, line \d+)?[,:] /, ""));

/** A count with thin spaces between thousands. @param {number} n */
export const counted = (n) => n.toLocaleString("en-GB").replaceAll(",", "\u202f");

/** @param {number} minutes */
export function lasting(minutes) {
  const all = Math.ceil(minutes);
  const [hours, rest] = [Math.floor(all / 60), all % 60];
  if (!hours) return `${all} ${all === 1 ? "minute" : "minutes"}`;
  return rest ? `${hours} h ${rest} min` : `${hours} h`;
}
