/** The answer of a check: what is counted again is measured with the same tape. */

import { sendRuler } from "../lib/ruler.js";

document.querySelectorAll("form").forEach(sendRuler);
