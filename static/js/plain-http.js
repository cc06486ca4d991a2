/** Over plain http browsers refuse to keep pages: one line says what is missing, and how to get it. */

/** Put the line under those that say what is kept, where it is needed. */
export function sayWhatHttpLacks() {
  if (isSecureContext) return;
  const line = document.createElement("p");
  line.id = "plain-http";
  line.append("Over plain http this page counts without network only while it stays open. ");
  const address = document.querySelector("meta[name=https-address]")?.getAttribute("content");
  if (address) {
    const link = document.createElement("a");
    link.href = address + location.pathname;
    link.textContent = "Open it over https";
    line.append(link, " to have more.");
  } else {
    line.append("Ask whoever runs Tapeline for its https address to have more.");
  }
  document.getElementById("kept")?.after(line);
}
