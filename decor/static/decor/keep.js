/* Keeps on this device what is typed in a form until the server has it, so that a lost connection,
   a reload or a broken page loses nothing; and says so when the server cannot be reached.

   On a form
     data-keep="<key>"          keep this form; one key for each thing, such as "enquiry" or "piece-12"
     data-keep-response         any good answer to an htmx request of this form means it is saved
                                (for a form that saves itself as one types). ="sound": not an
                                answer that refuses some of it (422)
   On a field
     data-keep-also             keep this hidden field too (hidden fields are left alone otherwise;
                                passwords, files and the CSRF token are never kept)
   Anywhere in a page
     data-keep-saved="<key>"    the server says the form is saved. base.html writes it for
                                messages.success(request, "Saved.", extra_tags="keep:<key>");
                                an answer to htmx can say it with the header
                                HX-Trigger: {"keep:saved": {"key": "<key>"}}
     data-keep-forget           a form (log out) whose sending forgets all that is kept, asking first
     data-line-status           where the state of the line is said

   A form whose fields were put back gets the event "keep:restored", for scripts that draw from them.
   Every change is told by "input" and "change" events that bubble, so a script that sets a field
   must send one. */
"use strict";

const KEEP = "garlandwright.keep.";
const KEEP_DAYS = 14;
const KEEP_AFTER_MS = 250;

/* ---- What a form holds ---- */

function isKept(field) {
  if (!field.name || field.name === "csrfmiddlewaretoken" || field.disabled) return false;
  if (["password", "file", "submit", "button", "reset", "image"].includes(field.type)) return false;
  return field.type !== "hidden" || field.hasAttribute("data-keep-also");
}

function fieldsOf(form) {
  return [...form.elements].filter(isKept);
}

/* A tick or a chosen radio is kept by its value, a list by all that is chosen, the rest as typed.
   Values stand in the order of the page, as names may come more than once. */
function valueOf(field) {
  if (field.type === "checkbox" || field.type === "radio") return field.checked;
  if (field.type === "select-multiple") return [...field.selectedOptions].map((option) => option.value);
  return field.value;
}

function setValue(field, value) {
  if (field.type === "checkbox" || field.type === "radio") field.checked = value;
  else if (field.type === "select-multiple") for (const option of field.options) option.selected = value.includes(option.value);
  else field.value = value;
}

function nameOf(field) {
  return field.type === "checkbox" || field.type === "radio" ? `${field.name}=${field.value}` : field.name;
}

function typedIn(form) {
  const typed = {};
  for (const field of fieldsOf(form)) (typed[nameOf(field)] ??= []).push(valueOf(field));
  return typed;
}

function fill(form, typed) {
  const seen = {};
  for (const field of fieldsOf(form)) {
    const name = nameOf(field);
    const at = (seen[name] = (seen[name] ?? -1) + 1);
    if (typed[name] && at < typed[name].length) setValue(field, typed[name][at]);
  }
}

function same(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}

/* ---- The device's memory. It may be full or forbidden: the page must work all the same. ---- */

function recall(key) {
  try {
    const kept = JSON.parse(localStorage.getItem(KEEP + key));
    return kept && kept.at > Date.now() - KEEP_DAYS * 86400000 ? kept : null;
  } catch {
    return null;
  }
}

function remember(key, typed) {
  try {
    localStorage.setItem(KEEP + key, JSON.stringify({ at: Date.now(), typed }));
    return true;
  } catch {
    return false;
  }
}

function forget(key) {
  try {
    localStorage.removeItem(KEEP + key);
  } catch {
    /* nothing was kept */
  }
}

function keptKeys() {
  try {
    return Object.keys(localStorage).filter((name) => name.startsWith(KEEP)).map((name) => name.slice(KEEP.length));
  } catch {
    return [];
  }
}

/* ---- Notices. The quiet one comes while one types, so it stands beside the buttons, where it moves
   nothing; what was put back is told at the top. ---- */

function notice(form, kind, place) {
  let told = form.querySelector(`.${kind}`);
  if (!told) {
    told = document.createElement("p");
    told.className = `kept ${kind}`;
    told.setAttribute("role", "status");
    place(told);
  }
  return told;
}

function sayKept(form, isKept) {
  const bar = form.querySelector(":scope > .form-actions") ?? form;
  const told = notice(form, "kept-quiet", (element) => bar.append(element));
  told.hidden = !isKept;
  told.textContent = isKept ? "Kept on this device, not yet saved." : "";
}

function sayRestored(form, at, drop) {
  const told = notice(form, "kept-restored", (element) => form.prepend(element));
  told.textContent = `Put back what you typed (${at}): kept on this device, not yet saved.`;
  const button = document.createElement("button");
  button.type = "button";
  button.className = "btn btn-sm";
  button.textContent = "Drop it, show what is saved";
  button.addEventListener("click", drop);
  told.append(button);
}

function sayNothing(form) {
  form.querySelector(".kept-restored")?.remove();
  sayKept(form, false);
}

/* ---- Keeping ---- */

/* Set while one logs out: nothing may be written down again before the page has gone. */
let forgetting = false;
addEventListener("pageshow", () => {
  forgetting = false;
});

function tend(form) {
  if (form.keepTended) return;
  form.keepTended = true;
  const key = form.dataset.keep;
  const asServed = typedIn(form);
  /* What comes back with errors is what was typed, not what is saved. */
  const wasRefused = form.querySelector("[data-form-problems], .is-invalid") !== null;
  const savesItself = form.hasAttribute("data-keep-response");
  let waiting = 0;

  const kept = recall(key);
  if (kept && !same({ ...asServed, ...kept.typed }, asServed)) {
    fill(form, kept.typed);
    const at = new Date(kept.at).toLocaleString([], { weekday: "short", hour: "2-digit", minute: "2-digit" });
    sayRestored(form, at, () => {
      forget(key);
      fill(form, asServed);
      sayNothing(form);
      tell(form);
    });
    tell(form);
  }

  const keepNow = () => {
    clearTimeout(waiting);
    waiting = 0;
    if (forgetting) return;
    const typed = typedIn(form);
    if (same(typed, asServed) && !wasRefused) {
      forget(key);
      sayNothing(form);
    } else if (remember(key, typed) && !savesItself && !form.querySelector(".kept-restored")) {
      sayKept(form, true);
    }
  };
  const keepSoon = () => {
    clearTimeout(waiting);
    waiting = setTimeout(keepNow, KEEP_AFTER_MS);
  };
  form.addEventListener("input", keepSoon);
  form.addEventListener("change", keepSoon);
  form.addEventListener("submit", keepNow);
  addEventListener("pagehide", () => {
    if (waiting && form.isConnected) keepNow();
  });

  form.keepSaved = (typed) => {
    if (!same(typed, typedIn(form))) return; /* more was typed since: that is not saved yet */
    clearTimeout(waiting);
    waiting = 0;
    for (const name of Object.keys(asServed)) delete asServed[name];
    Object.assign(asServed, typed);
    forget(key);
    sayNothing(form);
  };
}

function tell(form) {
  form.dispatchEvent(new CustomEvent("keep:restored", { bubbles: true }));
  form.dispatchEvent(new Event("change", { bubbles: true }));
}

function tendAll(root) {
  if (root.matches?.("form[data-keep]")) tend(root);
  for (const form of root.querySelectorAll("form[data-keep]")) tend(form);
}

function saved(key) {
  forget(key);
  for (const form of document.querySelectorAll("form[data-keep]")) {
    if (form.dataset.keep === key) form.keepSaved?.(typedIn(form));
  }
}

for (const sign of document.querySelectorAll("[data-keep-saved]")) forget(sign.dataset.keepSaved);
// When every script has run: "keep:restored" must find those that listen for it, htmx among them.
addEventListener("DOMContentLoaded", () => tendAll(document));
document.querySelector("[data-form-problems]")?.focus();

document.body.addEventListener("htmx:load", (event) => tendAll(event.detail.elt));
document.body.addEventListener("keep:saved", (event) => saved(event.detail.key));

document.addEventListener("submit", (event) => {
  if (!event.target.matches("[data-keep-forget]")) return;
  const keys = keptKeys();
  if (keys.length && !confirm("Something typed on this device is not saved yet. Forget it?")) event.preventDefault();
  else {
    forgetting = true;
    keys.forEach(forget);
    globalThis.caches?.delete("garlandwright-sheets"); /* sheets kept for work without a network */
  }
});

/* ---- The line to the server ---- */

const LINE_LOST = "No answer from the app. What you type is kept on this device.";
const LINE_BROKE = "The app could not do that. What you typed is kept on this device; try again.";
const LINE_LOGGED_OUT = "You are logged out. What you typed is kept on this device: load this page again to log in.";

function line(words) {
  for (const place of document.querySelectorAll("[data-line-status]")) {
    if (place.textContent !== words) place.textContent = words;
  }
}

function isLoginPage(xhr) {
  const address = document.body.dataset.loginUrl;
  return Boolean(address && xhr.responseURL && new URL(xhr.responseURL).pathname === address);
}

function formOf(event) {
  return event.detail.elt.closest?.("form[data-keep-response]");
}

document.body.addEventListener("htmx:beforeRequest", (event) => {
  const form = formOf(event);
  if (form) event.detail.xhr.keepTyped = typedIn(form);
});
document.body.addEventListener("htmx:beforeSwap", (event) => {
  if (!isLoginPage(event.detail.xhr)) return;
  event.detail.shouldSwap = false;
  line(LINE_LOGGED_OUT);
});
document.body.addEventListener("htmx:afterRequest", (event) => {
  const { xhr, successful } = event.detail;
  if (!successful || isLoginPage(xhr)) return;
  line("");
  const form = formOf(event);
  if (form?.dataset.keepResponse === "sound" && xhr.status === 422) return;
  if (xhr.keepTyped) form?.keepSaved?.(xhr.keepTyped);
});
document.body.addEventListener("htmx:responseError", () => line(LINE_BROKE));
for (const name of ["htmx:sendError", "htmx:timeout"]) document.body.addEventListener(name, () => line(LINE_LOST));
addEventListener("offline", () => line(LINE_LOST));
addEventListener("online", () => line(""));
