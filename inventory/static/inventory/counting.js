/* Counting by thumb: Enter (the phone's "next") goes to the next bag instead of sending the page. */
"use strict";

document.querySelector("form.counting")?.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.isComposing || event.target.tagName !== "INPUT") return;
  event.preventDefault();
  const fields = [...event.currentTarget.querySelectorAll("input[inputmode]")];
  const next = fields[fields.indexOf(event.target) + 1] ?? event.currentTarget.querySelector(".btn-primary");
  next.focus();
});

/* What was wrong with a number is not said of the next one. */
document.querySelector("form.counting")?.addEventListener("input", (event) => {
  const told = event.target.closest("li")?.querySelector(".count-state .invalid-feedback");
  told?.remove();
  event.target.classList.remove("is-invalid");
  event.target.removeAttribute("aria-invalid");
});
