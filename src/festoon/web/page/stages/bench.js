/** Bench: one hooping at a time, for a tablet or a telephone beside the machine. */

import { html } from "../vendor/lit/index.js";
import "../bench/bench.js";

/** @type {import("./stage.js").Stage} */
export const bench = {
  id: "bench",
  needs: "sheets",
  whole: (store) => html`<festoon-bench .store=${store}></festoon-bench>`,
};
