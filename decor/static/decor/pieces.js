/* The piece page. The server answers every change with the estimate and a note for each field;
   this shows in the fields what the notes say, opens the strip and the explanations, and sends again
   after a lost line. The picture asks for itself (templates/quoting/pieces/piece_edit.html). */
"use strict";

const SEND_AGAIN_MS = 4000;

const pieceForm = document.getElementById("piece-form");
const estimate = document.querySelector("[data-estimate]");
let sendingAgain = 0;

function sendAgain(afterMs) {
  clearTimeout(sendingAgain);
  sendingAgain = setTimeout(() => htmx.trigger(pieceForm, "piece:send"), afterMs);
}

/* What is sent is counted, so that the server knows which of two that cross is the newer. */
let serial = 0;
pieceForm.addEventListener("htmx:configRequest", (event) => {
  if (event.detail.elt === pieceForm) event.detail.parameters.serial = ++serial;
});
pieceForm.addEventListener("submit", () => {
  pieceForm.elements.serial.value = ++serial;
});

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

/* Folds that the owner opened in the estimate stay open when it is replaced. */
const openInEstimate = new Set();
document.addEventListener("toggle", (event) => {
  const name = event.target.dataset?.staysOpen;
  if (name) openInEstimate[event.target.open ? "add" : "delete"](name);
}, true);

document.body.addEventListener("htmx:afterSwap", (event) => {
  for (const fold of event.detail.target.querySelectorAll("[data-stays-open]")) fold.open = openInEstimate.has(fold.dataset.staysOpen);
});
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

/* A figure opens to its explanation. The dialog gives the focus back to the figure; where that was
   replaced meanwhile, to the one that stands in its place. */
const explain = document.querySelector("[data-explain]");
let openedFrom = "";
document.body.addEventListener("htmx:beforeRequest", (event) => {
  const figure = event.detail.elt.closest?.("a.figure");
  if (figure && !explain.open) openedFrom = figure.getAttribute("href");
});
document.body.addEventListener("htmx:afterSwap", (event) => {
  if (event.detail.target.id !== "explain-body") return;
  if (!explain.open) explain.showModal();
  explain.scrollTop = 0;
  document.getElementById("explain-title")?.focus();
});
explain.addEventListener("close", () => {
  estimate.querySelector(`a.figure[href="${CSS.escape(openedFrom)}"]`)?.focus();
});
explain.addEventListener("click", (event) => {
  if (event.target === explain) explain.close();
});
