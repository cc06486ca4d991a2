/** The page that is kept for those that this phone makes without network. */

import { showPageHere } from "./page-here.js";

showPageHere();
