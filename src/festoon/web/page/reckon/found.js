/** Findings as the proof tells them: those that say the same as one, and what mends or accepts them. */

/** @typedef {import("../types.js").Finding} Finding */
/** @typedef {import("../types.js").Edit} Edit */
/** @typedef {{indices: number[], worst: Finding}} Entry indices: of its findings in the proof; worst: the first of them */

/**
 * What is told as one, in the order of the proof: all that say the same, what is accepted apart.
 * @param {Finding[]} findings
 * @returns {Entry[]}
 */
export function entries(findings) {
  /** @type {Map<string, Entry>} */
  const told = new Map();
  findings.forEach((finding, index) => {
    const name = `${finding.group} ${finding.accepted}`;
    const entry = told.get(name);
    if (entry) entry.indices.push(index);
    else told.set(name, { indices: [index], worst: finding });
  });
  return [...told.values()];
}

/**
 * @param {Finding} one
 * @param {Finding} other
 */
function worse(one, other) {
  if (!one.amount || !other.amount) return false;
  return one.amount.least ? one.amount.value < other.amount.value : one.amount.value > other.amount.value;
}

/**
 * The edits that accept findings, each as bad as the worst of its key, or take that back where there is no note.
 * @param {Pick<Finding, "rule" | "about" | "key" | "where">[]} chosen
 * @param {Finding[]} all
 * @param {string | null} note
 * @returns {Edit[]}
 */
export function accepting(chosen, all, note) {
  const once = [...new Map(chosen.map((finding) => [finding.key, finding])).values()];
  return once.map(({ rule, about, key, where }) => {
    const worst = all.filter((f) => f.key === key).reduce((/** @type {Finding | null} */ a, b) => (a && !worse(b, a) ? a : b), null);
    return { do: "accept", rule, panel: where.panel, about, ...(note === null ? {} : { amount: worst?.amount?.value ?? null, note }) };
  });
}

/**
 * What a mend comes to in the piece file, and what undo will call it.
 * @param {import("../types.js").Mend} mend
 * @returns {{label: string, edit: Edit}}
 */
export function mending({ element, word, value }) {
  if (!element) return { label: `changing ${word}`, edit: { do: "piece", table: "hooping", word, value } };
  return { label: `${word === "at" ? "moving" : `lengthening ${word} of`} ${element}`, edit: { do: "set", element, word, value } };
}
