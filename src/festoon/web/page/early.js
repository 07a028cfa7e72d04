/** Asks for the piece and for the stage to open at once, while the rest of the page is still on its way. */

import { lookAhead } from "./server.js";
import { stageOfAddress } from "./stages/all.js";

lookAhead();
stageOfAddress().catch(() => undefined); // told to the page, which asks for it again
