/* The device's colour picker writes what is picked into the field beside it: in place of what is
   there, or added to it. Without scripts the picker stays hidden and the field is typed in. */
"use strict";

for (const picker of document.querySelectorAll("[data-picker]")) {
  const field = document.getElementById(picker.dataset.picker);
  picker.hidden = false;
  picker.querySelector("input").addEventListener("change", (event) => {
    const typed = field.value.trim().replace(/,$/, "");
    const isMany = field.dataset.takesPicked === "many" && typed;
    field.value = isMany ? `${typed}, ${event.target.value}` : event.target.value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
}
