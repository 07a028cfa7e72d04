import { svg, html } from "./vendor/lit/index.js";

/** @typedef {"sound" | "look" | "wont"} Seal */

/** @type {Record<string, Seal>} */
const SEALS = { sound: "sound", "look again": "look", "will not work": "wont" };
/** @type {Record<string, string>} */
const WORDS = { sound: "Sound", "look again": "Look again", "will not work": "Will not work" };

/** @param {string} verdict */
export const sealOf = (verdict) => SEALS[verdict] ?? "look";
/** @param {string} verdict */
export const wordOf = (verdict) => WORDS[verdict] ?? verdict;

/**
 * The verdict's own shape, about the middle of a 30 by 30 field: round, three-cornered or square.
 * @param {string} verdict
 */
export function sealShape(verdict) {
  switch (sealOf(verdict)) {
    case "sound":
      return svg`<circle class="b-sound" r="12"></circle><path class="g" d="M-5.5 .5 -1.5 4.5 6-4"></path>`;
    case "look":
      return svg`<path class="b-look" d="M0-12.5 13.5 10.5H-13.5Z"></path><path class="g" d="M0-4.5V3M0 6.8V7"></path>`;
    default:
      return svg`<rect class="b-wont" x="-12" y="-12" width="24" height="24" rx="2"></rect><path class="g" d="M-5-5 5 5M5-5-5 5"></path>`;
  }
}

/** @param {string} verdict */
export const seal = (verdict) => html`<svg class="seal" viewBox="-15 -15 30 30" aria-hidden="true">${sealShape(verdict)}</svg>`;
