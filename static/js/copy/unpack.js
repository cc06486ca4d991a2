/** The script that a copy begins with: what the file holds is packed, deflated and in base64 (RFC 1951 and 4648). */

(async () => {
  /** @param {string | null} packed */
  function unpacked(packed) {
    const bytes = Uint8Array.from(atob(packed ?? ""), (letter) => letter.charCodeAt(0));
    const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
    return new Response(plain).text();
  }

  try {
    for (const held of document.querySelectorAll("[data-packed]")) held.textContent = await unpacked(held.textContent);
    const script = /** @type {HTMLElement} */ (document.getElementById("script")?.cloneNode(true));
    script.removeAttribute("type");
    document.getElementById("written")?.remove();
    document.body.append(script);
  } catch {
    const words =
      "DecompressionStream" in window ? "This file is not whole." : "This browser is too old to count from this file.";
    document.querySelector(".hand")?.remove();
    document.getElementById("ahead")?.replaceChildren(`${words} Its pattern stands below.`);
  }
})();
