/** The plan in a scanned code: behind the # of the address, where no server sees it (companion/pair/plan_code.py). */

const FORM = /** @type {HTMLFormElement} */ (document.getElementById("plan"));
const SAYS = /** @type {HTMLElement} */ (document.getElementById("says"));
const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
/** Letters of a plan that this page unpacks; a code holds far fewer. */
const MOST = 4000;

addEventListener("hashchange", read);
read();

async function read() {
  const [, unit = "", letters = ""] = /^#(cm|in)\.([A-Z2-7]+)$/.exec(location.hash) ?? [];
  try {
    const text = await unpacked(letters);
    const { title } = JSON.parse(text);
    if (typeof title === "string") document.getElementById("title")?.replaceChildren(`“${title}”`);
    const field = FORM.elements.namedItem("request");
    if (field instanceof HTMLInputElement) field.value = text;
    FORM.action = `/handed-on?unit=${unit}`;
    FORM.hidden = false;
  } catch {
    FORM.hidden = true;
    SAYS.textContent =
      "DecompressionStream" in window
        ? "This code is not whole. Scan it again, or ask for the link of the pair."
        : "This browser is too old to read it. Ask for the link of the pair.";
  }
}

/**
 * Base32 (RFC 4648, section 6), and deflated.
 * @param {string} letters
 */
function unpacked(letters) {
  if (!letters || letters.length > MOST) throw new RangeError("no plan");
  const bytes = new Uint8Array(Math.floor((letters.length * 5) / 8));
  let held = 0;
  let bits = 0;
  let at = 0;
  for (const letter of letters) {
    held = ((held << 5) | LETTERS.indexOf(letter)) & 0xfff;
    bits += 5;
    if (bits >= 8) {
      bits -= 8;
      bytes[at++] = held >> bits;
    }
  }
  const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Response(plain).text();
}
