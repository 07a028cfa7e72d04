/** Asks for the piece at once, while the rest of the page is still on its way. */

import { lookAhead } from "./server.js";

lookAhead();
