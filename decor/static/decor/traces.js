/* Marks and taps on a photo. The number fields of the form hold every point; this draws them on the
   photo, moves them by finger, mouse and keyboard, and writes them back. The server answers every
   change with the length so far and keeps the draft. */
"use strict";

const SEND_AGAIN_MS = 4000;
const HIT_PX = 22; /* half of a 44 px target */
const RING_PX = 9;
const LOUPE_PX = 128;
const LOUPE_ENLARGES = 4;
const ZOOMS = [1, 2, 4];
const TALLEST = 0.72; /* of the window's height */
const STEPS_KEPT = 200;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
/* Where points begin that are added by button: as shares of the photo. */
const FIRST_PLACES = {
  corner: [[0.35, 0.3], [0.65, 0.3], [0.65, 0.75], [0.35, 0.75]],
  end: [[0.35, 0.5], [0.65, 0.5]],
  tap: [[0.25, 0.25]],
};
const WORDS = { corner: "Corner", end: "End", tap: "Point" };
const SVG = "http://www.w3.org/2000/svg";

const form = document.querySelector("[data-trace]");
const photo = form.querySelector("[data-trace-photo]");
const view = form.querySelector("[data-trace-window]");
const loupe = form.querySelector("[data-trace-loupe]");
const handleLayer = form.querySelector("[data-trace-handles]");
const tools = form.querySelector("[data-trace-tools]");
const nextSays = form.querySelector("[data-trace-next]");
const size = { x: Number(form.dataset.photoWidth), y: Number(form.dataset.photoHeight) };
const mostTaps = Number(form.dataset.mostTaps);

const handles = new Map();
const before = [];
let step = "marks";
let zoom = 0;
let chosen = null; /* {what, row} */
let sendingAgain = 0;

/* ---- The points, as they stand in the fields ---- */

function fields(what, row) {
  return ["x", "y"].map((way) => form.elements.namedItem(`${what}_${row}_${way}`));
}

function read(what, row) {
  const [x, y] = fields(what, row);
  if (!x || x.value.trim() === "" || y.value.trim() === "") return null;
  const point = { x: Number(x.value), y: Number(y.value) };
  return Number.isFinite(point.x) && Number.isFinite(point.y) ? point : null;
}

function write(what, row, point) {
  const written = point ? [within(point.x, size.x), within(point.y, size.y)] : ["", ""];
  fields(what, row).forEach((field, at) => (field.value = written[at]));
}

function within(number, most) {
  return Math.round(Math.min(Math.max(number, 0), most) * 10) / 10;
}

function markKind() {
  return form.elements.known.value === "length" ? ["end", 2] : ["corner", 4];
}

function rowsOf(what) {
  return what === "tap" ? mostTaps : FIRST_PLACES[what].length;
}

function points(what) {
  const found = [];
  for (let row = 1; row <= rowsOf(what); row++) {
    const point = read(what, row);
    if (point) found.push({ what, row, ...point });
  }
  return found;
}

function firstFree(what) {
  for (let row = 1; row <= rowsOf(what); row++) if (!read(what, row)) return row;
  return 0;
}

function activeKind() {
  return { marks: markKind()[0], path: "tap" }[step] ?? "";
}

/* ---- Changes, each of which can be undone ---- */

function pointFields() {
  return [...form.elements].filter((field) => /^(corner|end|tap)_\d+_[xy]$/.test(field.name));
}

function snapshot() {
  before.push(pointFields().map((field) => field.value));
  if (before.length > STEPS_KEPT) before.shift();
}

function changed() {
  draw();
  fields("corner", 1)[0].dispatchEvent(new Event("input", { bubbles: true }));
}

function undo() {
  const values = before.pop();
  if (!values) return;
  pointFields().forEach((field, at) => (field.value = values[at] ?? ""));
  choose(null);
  changed();
}

function add(point, what = activeKind()) {
  const row = what && firstFree(what);
  if (!row) return null;
  snapshot();
  write(what, row, point);
  choose({ what, row });
  changed();
  return handles.get(`${what}_${row}`);
}

function addByButton() {
  const what = activeKind();
  const row = what && firstFree(what);
  if (!row) return;
  const last = what === "tap" ? points("tap").at(-1) : null;
  const [x, y] = FIRST_PLACES[what][row - 1] ?? FIRST_PLACES[what][0];
  const next = last ? { x: last.x + size.x * 0.15, y: last.y } : { x: x * size.x, y: y * size.y };
  add(next)?.focus();
}

function remove() {
  if (!chosen) return;
  snapshot();
  const { what, row } = chosen;
  write(what, row, null);
  if (what === "tap") {
    for (let at = row; at < mostTaps; at++) write(what, at, read(what, at + 1));
    write(what, mostTaps, null);
  }
  const next = what === "tap" && row > 1 && !read(what, row) ? row - 1 : row;
  choose(read(what, next) ? { what, row: next } : null);
  changed();
  if (chosen) handles.get(`${what}_${next}`).focus();
  else view.focus();
}

function clear() {
  const what = activeKind();
  if (!what || !points(what).length) return;
  snapshot();
  for (let row = 1; row <= rowsOf(what); row++) write(what, row, null);
  choose(null);
  changed();
}

function move(point, by) {
  const at = read(point.what, point.row);
  if (!at) return;
  write(point.what, point.row, { x: at.x + by[0], y: at.y + by[1] });
  choose(point);
  changed();
  showLoupe(point);
}

/* ---- Drawing ---- */

function pixel() {
  const shown = photo.getBoundingClientRect().width;
  return shown ? size.x / shown : 1;
}

function element(name, attributes, parent) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  parent.append(made);
  return made;
}

function newHandle(what, row) {
  const handle = element("g", { class: `trace-handle is-${what}`, tabindex: "0", role: "button" }, handleLayer);
  element("circle", { class: "trace-hit", r: HIT_PX }, handle);
  for (const name of ["trace-ring-under", "trace-ring"]) {
    if (what === "tap") element("circle", { class: name, r: RING_PX }, handle);
    else element("rect", { class: name, x: -RING_PX, y: -RING_PX, width: 2 * RING_PX, height: 2 * RING_PX }, handle);
  }
  element("circle", { class: "trace-middle", r: 1.5 }, handle);
  const number = element("text", { class: "trace-number", x: RING_PX + 4, y: -RING_PX }, handle);
  number.textContent = row;
  Object.assign(handle.dataset, { what, row });
  return handle;
}

function placeHandle(handle, point, scale) {
  const { what, row } = point;
  const [x, y] = [within(point.x, size.x), within(point.y, size.y)]; /* what is outside shows at the edge */
  const isActive = what === activeKind();
  handle.setAttribute("transform", `translate(${x} ${y}) scale(${scale})`);
  handle.setAttribute("aria-label", `${WORDS[what]} ${row}: ${Math.round(x)} across, ${Math.round(y)} down`);
  handle.setAttribute("tabindex", isActive ? "0" : "-1");
  handle.classList.toggle("is-active", isActive);
  handle.classList.toggle("is-chosen", chosen?.what === what && chosen.row === row);
  handle.classList.toggle("is-wrong", noteOf(what, row)?.classList.contains("field-wrong") ?? false);
}

function noteOf(what, row) {
  return document.getElementById(`note-${what}_${row}`);
}

/* Corners in whatever order they were tapped, joined so that no two sides cross. */
function around(marks) {
  const x = marks.reduce((sum, mark) => sum + mark.x, 0) / marks.length;
  const y = marks.reduce((sum, mark) => sum + mark.y, 0) / marks.length;
  return [...marks].sort((a, b) => Math.atan2(a.y - y, a.x - x) - Math.atan2(b.y - y, b.x - x));
}

function draw() {
  const marks = points(markKind()[0]);
  const taps = points("tap");
  const scale = pixel();
  const shown = new Set();
  for (const point of [...marks, ...taps]) {
    const key = `${point.what}_${point.row}`;
    shown.add(key);
    if (!handles.has(key)) handles.set(key, newHandle(point.what, point.row));
    placeHandle(handles.get(key), point, scale);
  }
  for (const [key, handle] of handles) {
    if (!shown.has(key)) {
      handle.remove();
      handles.delete(key);
    }
  }
  join("[data-trace-outline]", marks.length > 2 ? around(marks) : marks);
  join("[data-trace-path]", taps);
  showRows(taps);
  showTools(marks, taps);
}

function join(selector, joined) {
  for (const line of form.querySelectorAll(selector)) line.setAttribute("points", joined.map(({ x, y }) => `${x},${y}`).join(" "));
}

function showRows(taps) {
  const last = (taps.at(-1)?.row ?? 0) + 3;
  for (let row = 1; row <= mostTaps; row++) {
    const line = form.querySelector(`[data-row="tap_${row}"]`);
    if (line) line.hidden = row > last && fields("tap", row).every((field) => field.value === "");
  }
}

function showTools(marks, taps) {
  const isFree = Boolean(activeKind()) && firstFree(activeKind()) > 0;
  const of = { undo: before.length > 0, clear: (step === "path" ? taps : marks).length > 0 && step !== "size", remove: Boolean(chosen), add: isFree, larger: zoom < ZOOMS.length - 1, smaller: zoom > 0 };
  for (const [tool, isUsable] of Object.entries(of)) tools.querySelector(`[data-tool="${tool}"]`).disabled = !isUsable;
  for (const nudge of tools.querySelectorAll("[data-nudge]")) nudge.disabled = !chosen;
  tools.querySelector('[data-tool="clear"]').setAttribute("aria-label", step === "path" ? "Clear the path" : "Clear the marks");
  say(nextWords(marks.length, taps.length));
}

function say(words) {
  if (nextSays.textContent !== words) nextSays.textContent = words;
}

function nextWords(marks, taps) {
  if (step === "size") return "Type how large it is, under the photo.";
  if (step === "path") return taps ? `Tap along the path: ${taps} point${taps === 1 ? "" : "s"} so far.` : "Tap where the garland begins.";
  const [what, all] = markKind();
  const words = { corner: "the four corners of a door, a window or a sign", end: "both ends of what you know the length of" }[what];
  if (marks === all) return "All marked. Drag one to put it right.";
  return `Tap ${words}: ${marks} of ${all} marked.`;
}

function choose(point) {
  chosen = point;
  if (!point) loupe.toggleAttribute("hidden", true);
}

/* ---- The loupe: what is under the finger, at the other side of the photo ---- */

function showLoupe({ what, row }) {
  const at = read(what, row);
  if (!at) return;
  const wide = (LOUPE_PX * pixel() * ZOOMS[zoom]) / Math.max(LOUPE_ENLARGES, ZOOMS[zoom] * 2);
  loupe.setAttribute("viewBox", `${at.x - wide / 2} ${at.y - wide / 2} ${wide} ${wide}`);
  loupe.querySelector("[data-trace-cross]").setAttribute("transform", `translate(${at.x} ${at.y}) scale(${wide / LOUPE_PX})`);
  const seen = view.getBoundingClientRect();
  const onScreen = toScreen(at);
  loupe.classList.toggle("is-right", onScreen.x < seen.left + seen.width / 2);
  loupe.toggleAttribute("hidden", false);
}

function hideLoupe() {
  loupe.toggleAttribute("hidden", true);
}

function toPhoto(event) {
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(photo.getScreenCTM().inverse());
  return { x: at.x, y: at.y };
}

function toScreen(point) {
  return new DOMPoint(point.x, point.y).matrixTransform(photo.getScreenCTM());
}

/* ---- Finger and mouse ---- */

function pointOf(handle) {
  return { what: handle.dataset.what, row: Number(handle.dataset.row) };
}

photo.addEventListener("click", (event) => {
  if (event.target.closest(".trace-handle.is-active")) return;
  hideLoupe();
  add(toPhoto(event));
});

let dragged = null;

handleLayer.addEventListener("pointerdown", (event) => {
  const handle = event.target.closest(".trace-handle.is-active");
  if (!handle || event.button !== 0) return;
  const point = pointOf(handle);
  const at = read(point.what, point.row);
  const finger = toPhoto(event);
  dragged = { point, id: event.pointerId, off: { x: at.x - finger.x, y: at.y - finger.y }, hasMoved: false };
  handle.setPointerCapture(event.pointerId);
  choose(point);
  draw();
  showLoupe(point);
});

handleLayer.addEventListener("pointermove", (event) => {
  if (!dragged || event.pointerId !== dragged.id) return;
  if (!dragged.hasMoved) snapshot();
  dragged.hasMoved = true;
  const { point, off } = dragged;
  const finger = toPhoto(event);
  write(point.what, point.row, { x: finger.x + off.x, y: finger.y + off.y });
  draw();
  showLoupe(point);
});

for (const name of ["pointerup", "pointercancel"]) {
  handleLayer.addEventListener(name, (event) => {
    if (!dragged || event.pointerId !== dragged.id) return;
    const { hasMoved } = dragged;
    dragged = null;
    if (hasMoved) {
      hideLoupe();
      changed();
    }
  });
}

/* ---- Keyboard ---- */

handleLayer.addEventListener("keydown", (event) => {
  const handle = event.target.closest(".trace-handle");
  if (!handle) return;
  if (event.key === "Delete" || event.key === "Backspace") {
    event.preventDefault();
    choose(pointOf(handle));
    remove();
  }
  const arrow = ARROWS[event.key];
  if (!arrow) return;
  event.preventDefault();
  event.stopPropagation();
  snapshot();
  move(pointOf(handle), arrow.map((part) => part * (event.shiftKey ? 10 : 1)));
});

handleLayer.addEventListener("focusin", (event) => {
  const handle = event.target.closest(".trace-handle");
  if (!handle || dragged) return;
  choose(pointOf(handle));
  draw();
  if (handle.matches(":focus-visible")) showLoupe(pointOf(handle));
});
handleLayer.addEventListener("focusout", () => {
  if (!dragged) hideLoupe();
});

/* ---- Buttons ---- */

const TOOLS = { undo, clear, remove, add: addByButton, larger: () => zoomTo(zoom + 1), smaller: () => zoomTo(zoom - 1) };

tools.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  if (button.dataset.tool) TOOLS[button.dataset.tool]();
  if (button.dataset.nudge && chosen) {
    const byPixel = Math.max(1, Math.round(pixel()));
    snapshot();
    move(chosen, button.dataset.nudge.split(" ").map((part) => part * byPixel));
  }
});

form.addEventListener("click", (event) => {
  const onward = event.target.closest("[data-to-step]");
  if (onward) goTo(onward.dataset.toStep);
});

function goTo(next) {
  step = next;
  form.dataset.step = next;
  choose(null);
  for (const button of form.querySelectorAll(".trace-step")) {
    if (button.dataset.toStep === next) button.setAttribute("aria-current", "step");
    else button.removeAttribute("aria-current");
  }
  draw();
}

/* ---- Size on the screen ---- */

function fit() {
  if (!view.clientWidth) return;
  const whole = Math.min(view.clientWidth, (TALLEST * innerHeight * size.x) / size.y);
  photo.style.width = `${whole * ZOOMS[zoom]}px`;
  draw();
}

function zoomTo(next) {
  if (next < 0 || next >= ZOOMS.length) return;
  const middle = chosen && read(chosen.what, chosen.row);
  const was = pixel();
  const centre = middle ?? { x: (view.scrollLeft + view.clientWidth / 2) * was, y: (view.scrollTop + view.clientHeight / 2) * was };
  zoom = next;
  hideLoupe();
  fit();
  view.scrollTo(centre.x / pixel() - view.clientWidth / 2, centre.y / pixel() - view.clientHeight / 2);
}

/* ---- The server's answers ---- */

function heedNotes() {
  for (const note of form.querySelectorAll(".field-note")) {
    const isWrong = note.classList.contains("field-wrong");
    for (const field of form.querySelectorAll(`[aria-describedby="${note.id}"]`)) {
      if (isWrong) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }
  }
  draw();
}

function sendAgain(afterMs) {
  clearTimeout(sendingAgain);
  sendingAgain = setTimeout(() => htmx.trigger(form, "trace:send"), afterMs);
}

for (const name of ["htmx:sendError", "htmx:timeout", "htmx:responseError"]) form.addEventListener(name, () => sendAgain(SEND_AGAIN_MS));
form.addEventListener("htmx:afterRequest", (event) => {
  if (event.detail.successful) clearTimeout(sendingAgain);
});
document.body.addEventListener("htmx:afterSettle", (event) => {
  if (event.detail.target?.id === "trace-readout") heedNotes();
});
addEventListener("online", () => sendAgain(0));

/* A problem leads to its point on the photo, or to its field. */
form.addEventListener("click", (event) => {
  const link = event.target.closest("[data-leads-to]");
  if (!link) return;
  const field = document.getElementById(link.hash.slice(1));
  if (!field) return;
  event.preventDefault();
  const [, what, row] = field.name.match(/^(corner|end|tap)_(\d+)_[xy]$/) ?? [];
  goTo(what ? (what === "tap" ? "path" : "marks") : "size");
  const handle = handles.get(`${what}_${row}`);
  if (what && !handle) form.querySelector("[data-trace-numbers]").open = field.value !== "";
  if (what && !handle && field.value === "") view.focus(); /* not there yet: it is to be tapped */
  else (handle ?? field).focus();
});

form.addEventListener("input", (event) => {
  if (event.isTrusted) draw();
});
form.addEventListener("change", (event) => {
  if (event.isTrusted) draw();
});
form.addEventListener("keep:restored", draw);

/* ---- Begin ---- */

handleLayer.replaceChildren();
for (const hidden of form.querySelectorAll("[data-trace-steps], [data-trace-tools], [data-trace-next], .trace-onward")) hidden.hidden = false;
form.classList.add("is-live");
/* Open where a number that was typed is wrong; what is only missing is better tapped. */
form.querySelector("[data-trace-numbers]").open = pointFields().some((field) => field.value !== "" && field.getAttribute("aria-invalid") === "true");
goTo(firstFree(markKind()[0]) ? "marks" : "path");
new ResizeObserver(fit).observe(view);
