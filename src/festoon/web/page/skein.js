import { html } from "./vendor/lit/index.js";

/** A skein of thread of that colour. @param {string} colour */
export const skein = (colour) => html`<svg class="skein" viewBox="0 0 46 26" aria-hidden="true"><rect width="46" height="26" rx="12" fill=${colour}></rect>
  <path class="strands" d="M9 1v24M15 1v24M21 1v24M27 1v24M33 1v24M39 1v24"></path></svg>`;
