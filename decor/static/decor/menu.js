/* <details data-menu>: a menu closes when one goes elsewhere, by Escape or by a press outside it. */
"use strict";

function openMenus() {
  return document.querySelectorAll("details[data-menu][open]");
}

document.addEventListener("click", (event) => {
  for (const menu of openMenus()) {
    if (!menu.contains(event.target)) menu.open = false;
  }
});

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  for (const menu of openMenus()) {
    menu.open = false;
    menu.querySelector("summary").focus();
  }
});

document.addEventListener("focusin", (event) => {
  for (const menu of openMenus()) {
    if (!menu.contains(event.target)) menu.open = false;
  }
});
