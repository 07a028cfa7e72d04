/** The line below the sheet in the proof: what is shown, what its colours and ovals mean, and the lens. */

import { html, nothing } from "../vendor/lit/index.js";
import "./map.js";

/** @typedef {import("../store.js").Store} Store */

/** @param {Store} store */
export function legend(store) {
  const { found, cloth, lens } = store;
  if (!found || !cloth) return nothing;
  const way = (/** @type {"thickness" | "thread"} */ seenAs, /** @type {string} */ told) => html`<label><input type="radio" name="seen-as" .checked=${store.seenAs === seenAs} @change=${() => store.set({ seenAs })}>${told}</label>`;
  return html`<span class="legend"><span class="either" role="radiogroup" aria-label="What the sheet shows">${way("thickness", "Thickness")}${way("thread", "Thread")}</span>
    <button class="may" id="lens-button" aria-pressed=${lens !== null} title="A lens over the sheet" @click=${() => store.set({ lens: lens ? null : middleOf(store) })}>${lens ? "Put the lens away" : "Look closely"}</button>
    ${store.seenAs === "thickness" ? html`<span class="key"><b>Layers of thread</b>${found.levels.slice(1).map((level) => html`<span class="step"><festoon-swatch .levels=${found.levels} layers=${level.layers}></festoon-swatch>${level.told}</span>`)}</span>` : nothing}
    ${found.meetings.length ? html`<span class="key oval-key"><svg viewBox="-16 -11 32 22" aria-hidden="true"><ellipse class="misfit" rx="13" ry="8"></ellipse></svg><span>How far two hoopings may miss each other, up to twelve times life; under the lens as it is</span></span>` : nothing}</span>`;
}

/**
 * Where the lens is laid first: on the finding or meeting that is looked at, else on the first, else in the middle.
 * @param {Store} store
 * @returns {import("../types.js").Spot | null}
 */
function middleOf(store) {
  const { found, cloth, shown, meeting, panel } = store;
  if (!found) return null;
  const places = [found.findings[shown]?.where, found.meetings[meeting], ...found.findings.map((f) => f.where), ...found.meetings];
  const at = places.find((place) => place?.at && place.panel === panel)?.at;
  return at ?? (cloth ? [cloth.size[0] / 2, cloth.size[1] / 2] : null);
}
