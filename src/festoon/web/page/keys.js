/** The keys of the sheet, listed. */

import { html } from "./vendor/lit/index.js";

/** @param {import("./types.js").Units} units @returns {[string[], string][]} */
const keysOf = (units) => [
  [["Tab"], "goes from part to part, and to the handles of the chosen one"],
  [["Enter"], "chooses; with Shift, one more or one fewer"],
  [["←", "→", "↑", "↓"], units === "mm" ? "move what is chosen by half a millimetre; with Shift by 5 mm" : "move what is chosen by a sixteenth of an inch; with Shift by half an inch"],
  [["R"], "turns it 5 degrees; with Shift the other way"],
  [["M"], "turns it over, left for right"],
  [["D"], "sets another like it"],
  [["Delete"], "takes it off"],
  [["Esc"], "lets go, and puts back what is being moved"],
  [["Alt"], "held while dragging: leans to nothing, and turns by tenths of a degree"],
  [["Shift"], "held while clicking: chooses one more; drawing over empty cloth: all in the box"],
  [["+", "−", "0"], "bring the cloth closer, farther, and show it whole"],
  [["Ctrl Z", "Ctrl Y"], "undo, and do again"],
];

/** The list as a sheet of paper, closed until it is asked for. @param {import("./types.js").Units} units */
export function keysSheet(units) {
  return html`<dialog class="keys" aria-label="Keys"><h2>Keys on the sheet</h2>
    <dl>${keysOf(units).map(([keys, told]) => html`<dt>${keys.map((key) => html`<kbd>${key}</kbd> `)}</dt><dd>${told}</dd>`)}</dl>
    <form method="dialog"><button class="may">Put the list away</button></form></dialog>`;
}

/** @param {HTMLElement} sheet */
export function showKeys(sheet) {
  /** @type {HTMLDialogElement | null} */ (sheet.querySelector("dialog.keys"))?.showModal();
}
