/** Start: what to sew. Three questions for a new piece, an example to take, or an earlier piece. */

import { html } from "../vendor/lit/index.js";
import "../start.js";

/** @type {import("./stage.js").Stage} */
export const start = {
  id: "start",
  needs: null,
  whole: (store) => html`<festoon-start class="start-place" .store=${store}></festoon-start>`,
};
