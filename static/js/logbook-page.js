/** The logbook page: asks for the times of this device's own zone, and prints. */

export {};

const here = new URL(location.href);
const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
if (timeZone && timeZone !== "UTC" && !here.searchParams.has("zone")) {
  here.searchParams.set("zone", timeZone);
  location.replace(here);
}

const button = document.getElementById("print");
if (button) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
