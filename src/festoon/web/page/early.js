/**
 * Asks for the piece and for the stage to open at once, while the rest of the page is still on its way, and has the sheet
 * sketched as soon as there is something to be seen on it.
 */

import { lightAsLiked } from "./liked.js";
import { lookAhead } from "./server.js";
import { LAY_OUT, signOfAddress } from "./stages/all.js";

lightAsLiked();
const ahead = lookAhead();
const sign = signOfAddress();
sign.fetch().catch(() => undefined); // told to the page, which asks for it again
if (sign === LAY_OUT) sketched().catch(() => undefined); // told to the page, too

async function sketched() {
  const { sketch } = await import("./first-sketch.js"); // not before the piece is asked for
  const found = await ahead;
  if (found) await sketch(found);
}
