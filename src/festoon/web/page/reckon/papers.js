/** What each file is, by its name. */

/** The papers that sheets may be printed on (A4: ISO 216; Letter: ANSI/ASME Y14.1, size A). */
export const paperSizes = [
  { name: "A4", told: "210 by 297 mm" },
  { name: "Letter", told: "8 1/2 by 11 inches" },
];

/** @type {Record<string, {told: string, use: string}>} */
const SHEETS = {
  "templates.pdf": { told: "Templates", use: "True size, to lay on the cloth: every cross and outline, with marks to join the pages by." },
  "making-sheet.pdf": { told: "Making sheet", use: "What is made by hand and at the sewing machine: what to buy and cut, the order of it all, every step." },
  "work-sheet.pdf": { told: "Work sheet", use: "Each hooping in order: crosses, threads, minutes, what to buy, and cautions." },
  "proof.pdf": { told: "Proof sheet", use: "All that was found, how thick it gets, and how far hoopings may miss each other." },
  "hoopings.json": { told: "The open record", use: "The hoopings for other programs." },
};

/**
 * What a file is called and is for.
 * @param {string} name
 * @returns {{told: string, use: string}}
 */
export function sheetNamed(name) {
  const hooping = /^hooping-0*(\d+)\.\w+$/.exec(name);
  return SHEETS[name] ?? { told: hooping ? `Hooping ${hooping[1]}` : name, use: "" };
}
