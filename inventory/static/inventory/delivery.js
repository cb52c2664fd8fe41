/* A delivery by keyboard alone: Enter goes to the next row, and there is always one more. All rows
   are in the page, so that it works without this; here those not needed yet are put out of sight. */
"use strict";

const form = document.querySelector("[data-delivery]");
if (form) {
  const rows = [...form.querySelectorAll("[data-row]")];
  const more = form.querySelector("[data-row-more]");
  const field = (row, name) => row.querySelector(`[name="${name}"]`);
  const filled = (row) => [...row.querySelectorAll("input")].some((input) => input.value.trim());
  let shown = 1;

  const show = (count) => {
    shown = Math.min(rows.length, Math.max(count, shown));
    rows.forEach((row, at) => {
      row.hidden = at >= shown;
    });
    more.hidden = shown === rows.length;
  };
  const showFilled = () => show(rows.findLastIndex(filled) + 2);

  /* What an empty field stands for is said in it. */
  const sayUsual = (row) => {
    const typed = field(row, "item").value.trim().toLowerCase();
    const known = [...document.querySelectorAll("#items-known option")].find((option) => option.value.toLowerCase() === typed);
    field(row, "count").placeholder = known ? known.dataset.count : "usual";
  };
  const sayPlaces = () => {
    let above = "";
    for (const row of rows) {
      field(row, "place").placeholder = above ? `(${above})` : "as above";
      const here = field(row, "place").value.trim();
      if (here) above = here.toLowerCase() === "none" ? "none" : here;
    }
    field(rows[0], "place").placeholder = "cupboard or box";
  };

  form.addEventListener("input", (event) => {
    const row = event.target.closest("[data-row]");
    if (!row) return;
    showFilled();
    sayUsual(row);
    sayPlaces();
  });
  form.addEventListener("keydown", (event) => {
    const row = event.target.closest("[data-row]");
    if (event.key !== "Enter" || event.isComposing || !row || event.target.tagName !== "INPUT") return;
    event.preventDefault();
    const next = rows[rows.indexOf(row) + 1];
    if (filled(row) && next) {
      show(rows.indexOf(next) + 1);
      field(next, "item").focus();
    } else form.querySelector(".btn-primary").focus();
  });
  more.addEventListener("click", () => {
    show(shown + 1);
    field(rows[shown - 1], "item").focus();
  });
  form.addEventListener("keep:restored", () => {
    showFilled();
    rows.forEach(sayUsual);
    sayPlaces();
  });
  showFilled();
  rows.forEach(sayUsual);
  sayPlaces();
}
