/** Over plain http browsers refuse to keep pages: one line says what is missing, and how to get it. */

import { element } from "../../lib/dom.js";

/** Put the line under those that say what is kept, where it is needed. */
export function sayWhatHttpLacks() {
  if (isSecureContext) return;
  const line = element("p", "Over plain http this page counts without network only while it stays open. ");
  line.id = "plain-http";
  const https = document.querySelector("meta[name=https-address]");
  if (https instanceof HTMLMetaElement) {
    const link = element("a", "Open it over https");
    // Where the computer vouches for itself, the phone is first to trust it.
    const guided = "guide" in https.dataset;
    link.href = guided ? `/https?then=${encodeURIComponent(location.pathname)}` : https.content + location.pathname;
    line.append(link, " to have more.");
  } else {
    line.append("Ask whoever runs Tapeline for its https address to have more.");
  }
  document.getElementById("kept")?.after(line);
}
