/** Over plain http browsers refuse to keep pages: one line says what is missing, and how to get it. */

import { element } from "../../lib/dom.js";

/** Put the line under those that say what is kept, where it is needed. */
export function sayWhatHttpLacks() {
  if (isSecureContext) return;
  const line = element("p", "Over plain http this page counts without network only while it stays open. ");
  line.id = "plain-http";
  const address = document.querySelector("meta[name=https-address]")?.getAttribute("content");
  if (address) {
    const link = element("a", "Open it over https");
    link.href = address + location.pathname;
    line.append(link, " to have more.");
  } else {
    line.append("Ask whoever runs Tapeline for its https address to have more.");
  }
  document.getElementById("kept")?.after(line);
}
