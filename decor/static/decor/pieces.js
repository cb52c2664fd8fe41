/* The piece page. The server answers every change with the estimate and a note for each field;
   this shows in the fields what the notes say, opens the strip, and sends again after a lost line. */
"use strict";

const SEND_AGAIN_MS = 4000;

const pieceForm = document.getElementById("piece-form");
const estimate = document.querySelector("[data-estimate]");
let sendingAgain = 0;

function sendAgain(afterMs) {
  clearTimeout(sendingAgain);
  sendingAgain = setTimeout(() => htmx.trigger(pieceForm, "piece:send"), afterMs);
}

/* A note stands apart from its field, so that a field being typed in is never replaced. */
function heedNotes() {
  for (const note of pieceForm.querySelectorAll(".field-note")) {
    const name = note.id.slice("note-".length);
    const isWrong = note.classList.contains("field-wrong");
    for (const field of pieceForm.querySelectorAll(`[name="${CSS.escape(name)}"]`)) {
      if ("usual" in note.dataset) field.placeholder = note.dataset.usual;
      if (isWrong) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }
    if (isWrong) openFoldsOf(note);
  }
}

function openFoldsOf(element) {
  for (let fold = element.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
}

document.body.addEventListener("htmx:afterSettle", (event) => {
  if (event.detail.elt.id === "estimate-body" || event.detail.target?.id === "estimate-body") heedNotes();
});
for (const name of ["htmx:sendError", "htmx:timeout", "htmx:responseError"]) {
  pieceForm.addEventListener(name, () => sendAgain(SEND_AGAIN_MS));
}
pieceForm.addEventListener("htmx:afterRequest", (event) => {
  if (event.detail.successful) clearTimeout(sendingAgain);
});
addEventListener("online", () => sendAgain(0));

pieceForm.addEventListener("click", (event) => {
  const link = event.target.closest("[data-leads-to]");
  if (!link) return;
  const field = document.getElementById(link.hash.slice(1));
  if (!field) return;
  event.preventDefault();
  openFoldsOf(field);
  field.focus();
});

const opener = estimate.querySelector("[data-estimate-opener]");
estimate.classList.add("can-open");
opener.addEventListener("click", () => {
  const isOpen = estimate.classList.toggle("is-open");
  opener.setAttribute("aria-expanded", String(isOpen));
  opener.textContent = isOpen ? "Close" : "Show all";
});
