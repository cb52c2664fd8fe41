/* Offers the device's own time zone where nobody has said another. */
"use strict";

const zone = document.querySelector("input[name=timezone]");
const mine = Intl.DateTimeFormat().resolvedOptions().timeZone;
const isKnown = mine && document.querySelector(`#time-zones option[value="${CSS.escape(mine)}"]`);
const isUntouched = zone && zone.value === zone.defaultValue;
if (isKnown && isUntouched && !document.querySelector("[data-form-problems]")) {
  zone.value = mine;
  zone.dispatchEvent(new Event("input", { bubbles: true }));
}
