/** The leader's page: remembers the design in this browser, and hands its link on. */

import { rememberDesign } from "./designs-here.js";
import "./share.js";

const [, , link] = location.pathname.split("/");
rememberDesign({ link, title: document.getElementById("design-title")?.textContent ?? "" });
