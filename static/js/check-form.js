/** The gauge check form: its lengths follow the unit. */

import { followErrors } from "./errors.js";
import { followUnit } from "./unit-switch.js";

const form = /** @type {HTMLFormElement} */ (document.getElementById("check-form"));

followErrors(form);
followUnit(form);
