/** A JSON document made on this device, for the browser to save. */

import { element } from "./dom.js";

/**
 * @param {string} name of the file
 * @param {string} text
 */
export function saveFile(name, text) {
  const link = element("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  link.download = name;
  link.click();
  URL.revokeObjectURL(link.href);
}
