/** What is asked where something shall be taken off on which others lean. */

import { html, nothing } from "../vendor/lit/index.js";
import { leaning, offWith } from "../deeds.js";
import { seal } from "../seal.js";
import { capital, listed, whole } from "../words.js";

/** @param {import("../store.js").Store} store */
export function asking(store) {
  const { taking } = store;
  const others = leaning(store, taking);
  if (!taking.length || !others.length) return nothing;
  const told = capital(listed(others.map(whole)));
  const [lean, them] = others.length === 1 ? ["leans", "it"] : ["lean", "them"];
  return html`<div class="short asking" role="alert">${seal("look again")}<div>
    <p>${told} ${lean} on ${listed(taking.map(whole))} and cannot stay without ${taking.length === 1 ? "it" : "them"}.</p>
    <div class="row"><button class="do" @click=${() => offWith(store, [...others, ...taking])}>Take ${them} off as well</button>
      <button class="may" @click=${() => store.set({ taking: [] })}>Leave all as it is</button></div></div></div>`;
}
