/* Shows the chosen photo and lets the area be picked on it: a tap moves it, dragging draws it anew.
   The four numbers are what is sent, so keyboard and thumb do the same. */
"use strict";

const LONGEST_PX = 1200;
const SMALLEST_PER_CENT = 2;

const form = document.querySelector("[data-measuring]");
const figure = form.querySelector("[data-photo]");
const canvas = figure.querySelector("canvas");
const unseen = form.querySelector("[data-unseen]");
const fields = Object.fromEntries(["left", "top", "width", "height"].map((name) => [name, form.elements[name]]));
let picture = null;
let from = null;

function area() {
  const [left, top, width, height] = Object.values(fields).map((field) => Number.parseFloat(field.value) || 0);
  return { left, top, width, height };
}

function within(value, low, high) {
  return Math.min(Math.max(value, low), high);
}

function setArea({ left, top, width, height }) {
  const wide = within(width, SMALLEST_PER_CENT, 100);
  const high = within(height, SMALLEST_PER_CENT, 100);
  fields.width.value = wide.toFixed(1);
  fields.height.value = high.toFixed(1);
  fields.left.value = within(left, 0, 100 - wide).toFixed(1);
  fields.top.value = within(top, 0, 100 - high).toFixed(1);
  draw();
}

function draw() {
  if (!picture) return;
  const pen = canvas.getContext("2d");
  const { left, top, width, height } = area();
  const x = (left / 100) * canvas.width;
  const y = (top / 100) * canvas.height;
  const wide = (width / 100) * canvas.width;
  const high = (height / 100) * canvas.height;
  const thick = canvas.width / 150;
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  /* Dark and light together show on any colour. */
  pen.lineWidth = thick * 2;
  pen.strokeStyle = "#000000";
  pen.strokeRect(x, y, wide, high);
  pen.lineWidth = thick;
  pen.strokeStyle = "#ffffff";
  pen.strokeRect(x, y, wide, high);
}

async function show() {
  const file = form.elements.photo.files[0];
  picture = null;
  figure.hidden = unseen.hidden = true;
  if (!file) return;
  try {
    picture = await createImageBitmap(file);
  } catch {
    unseen.hidden = false;
    return;
  }
  const scale = Math.min(1, LONGEST_PX / Math.max(picture.width, picture.height));
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  figure.hidden = false;
  draw();
}

function place(event) {
  const edge = canvas.getBoundingClientRect();
  return {
    x: within(((event.clientX - edge.left) / edge.width) * 100, 0, 100),
    y: within(((event.clientY - edge.top) / edge.height) * 100, 0, 100),
  };
}

function isTap(to) {
  return Math.abs(to.x - from.x) < SMALLEST_PER_CENT && Math.abs(to.y - from.y) < SMALLEST_PER_CENT;
}

function pick(to) {
  if (isTap(to)) {
    const { width, height } = from.area;
    setArea({ left: to.x - width / 2, top: to.y - height / 2, width, height });
  } else {
    setArea({ left: Math.min(from.x, to.x), top: Math.min(from.y, to.y), width: Math.abs(to.x - from.x), height: Math.abs(to.y - from.y) });
  }
}

canvas.addEventListener("pointerdown", (event) => {
  from = { ...place(event), area: area() };
  canvas.setPointerCapture(event.pointerId);
});
canvas.addEventListener("pointermove", (event) => {
  if (from && !isTap(place(event))) pick(place(event));
});
canvas.addEventListener("pointerup", (event) => {
  if (from) pick(place(event));
  from = null;
});
canvas.addEventListener("pointercancel", () => {
  if (from) setArea(from.area);
  from = null;
});
/* One thing to press first: to measure, and then to use what was measured. */
document.body.addEventListener("htmx:afterSwap", () => {
  const isMeasured = document.querySelector("#measured .btn-primary") !== null;
  form.querySelector("[data-measure]").classList.toggle("btn-primary", !isMeasured);
});
for (const field of Object.values(fields)) field.addEventListener("input", draw);
form.elements.photo.addEventListener("change", show);
show();
