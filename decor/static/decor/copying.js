/* <button data-copies="id">: puts a field's text on the clipboard, or selects it where it may not. */
"use strict";

const COPIED = "Copied.";
const SELECTED = "Selected: now copy it from the keyboard or the menu.";

async function copied(field) {
  try {
    await navigator.clipboard.writeText(field.value);
    return true;
  } catch {
    return false;
  }
}

for (const button of document.querySelectorAll("[data-copies]")) {
  const field = document.getElementById(button.dataset.copies);
  const said = button.parentElement.querySelector("[data-copied]");
  button.hidden = false;
  button.addEventListener("click", async () => {
    const isDone = await copied(field);
    if (!isDone) {
      field.focus();
      field.select();
    }
    said.textContent = isDone ? COPIED : SELECTED;
  });
}
