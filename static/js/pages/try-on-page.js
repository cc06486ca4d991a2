/** The page after a try-on: how the sock felt can be remembered for one of the feet that this browser keeps. */

import { keepFoot, listFeet } from "../pair/feet.js";
import { actionButton } from "../lib/sheet.js";

/** @typedef {import("../pair/feet.js").KeptFoot} KeptFoot */

const felt = Object.fromEntries(
  [...document.querySelectorAll("[data-where]")].map((part) => [
    part.getAttribute("data-where"),
    part.getAttribute("data-feels"),
  ]),
);

offer().catch(() => undefined); // private windows of some browsers have no database

async function offer() {
  const feet = await listFeet();
  const part = document.getElementById("remember");
  if (!part || !feet.length) return;
  document.getElementById("remember-feet")?.append(...feet.map(({ name }) => actionButton(name, () => remember(name))));
  part.hidden = false;
}

/** @param {string} name */
async function remember(name) {
  const foot = (await listFeet()).find((each) => each.name === name);
  const said = document.getElementById("remembered");
  if (!foot || !said) return;
  await keepFoot({ ...foot, felt: { ...foot.felt, ...felt } });
  const back = actionButton("Take it back", async () => {
    await keepFoot(foot);
    said.textContent = "As it was before.";
  });
  said.replaceChildren(`Remembered for ${name}. `, back);
}
