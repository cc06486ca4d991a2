/** Lays the knit page out as this phone likes it before it is drawn: drawn as usual first, all of it would have to move. */

import { applySettings, settings } from "../lib/settings.js";

applySettings(settings());
