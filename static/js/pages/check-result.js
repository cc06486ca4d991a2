/** The answer of a check: before more places are counted the tape may be tried, and they are measured with the same. */

import { offerRuler } from "../forms/ruler-row.js";

const form = document.getElementById("again");
if (form instanceof HTMLFormElement) offerRuler(form);
