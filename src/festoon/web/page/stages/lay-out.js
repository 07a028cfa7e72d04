/** Lay out: what is sewn, and where; the ledger speaks of the chosen parts, or of the piece. */

import { html } from "../vendor/lit/index.js";
import "../drawer.js";
import { Hand } from "../hand.js";
import { ofPart } from "../ledger/of-part.js";
import { ofPiece } from "../ledger/of-piece.js";
import { ofSeveral } from "../ledger/of-several.js";

/** @type {import("./stage.js").Stage} */
export const layOut = {
  id: "lay-out",
  needs: null,
  ledger(store) {
    const parts = store.chosenParts;
    if (parts.length > 1) return ofSeveral(store);
    return parts.length ? ofPart(store, parts[0]) : ofPiece(store);
  },
  drawer: (store) => html`<festoon-drawer class="drawer-place" .store=${store}></festoon-drawer>`,
  hint(store) {
    const far = store.units === "mm" ? "half a millimetre a press, 5 mm with Shift" : "a sixteenth of an inch a press, half an inch with Shift";
    return store.chosen.length ? `Drag, or use the arrow keys: ${far}. R turns.` : "Choose a part by click or Tab. The wheel brings the cloth closer.";
  },
  hand: (sheet) => new Hand(sheet),
};
