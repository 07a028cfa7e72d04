/** What the browser keeps: corrected files, and readings that were typed. */

import * as server from "../server.js";

/** @typedef {import("../reckon/bench.js").Entry} Entry */

/**
 * Has the browser keep a corrected file.
 * @param {number} number
 * @param {string} name
 */
export function save(number, name) {
  const link = Object.assign(document.createElement("a"), { href: server.correctedAddress(number), download: name });
  document.body.append(link);
  link.click();
  link.remove();
}

/** Where readings that were typed are kept on this device. @param {number} number */
const place = (number) => `festoon-readings ${server.here("")} ${number}`;

/**
 * Readings typed before, if the piece is still the same.
 * @param {number} number
 * @param {string} revision
 * @returns {Record<string, Entry> | null}
 */
export function remembered(number, revision) {
  const kept = JSON.parse(localStorage.getItem(place(number)) ?? "null");
  return kept?.revision === revision ? kept.entries : null;
}

/**
 * @param {number} number
 * @param {string} revision
 * @param {Record<string, Entry>} entries
 */
export function remember(number, revision, entries) {
  localStorage.setItem(place(number), JSON.stringify({ revision, entries }));
}
