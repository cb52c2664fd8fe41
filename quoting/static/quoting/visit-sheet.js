/* The sheet at a place, where the network comes and goes: ticks and clocks count at once, here, and
   sheet-queue.js tells the server when it can. What needs the server itself says so and waits. */
"use strict";

const KNOWN_VISIT = "garlandwright.visit.";
const NO_LINE = "No network: not sent. What you typed is kept on this device. Press again once there is one.";

const visit = document.querySelector("[data-visit-sheet]");
const checks = [...document.querySelectorAll("[data-check]")];

/* ---- What is known: the page as it was served, or a later answer that this device remembers ---- */

function known() {
  const served = {
    at: visit.dataset.at,
    checks: checks.filter(({ dataset }) => "served" in dataset).map(({ dataset }) => dataset.check),
  };
  try {
    const later = JSON.parse(localStorage.getItem(KNOWN_VISIT + visit.dataset.visitSheet));
    return later && later.at > served.at ? later : served;
  } catch {
    return served;
  }
}

function learn({ at, checks: done }) {
  try {
    localStorage.setItem(KNOWN_VISIT + visit.dataset.visitSheet, JSON.stringify({ at, checks: done }));
  } catch {
    for (const form of checks) {
      if (done.includes(form.dataset.check)) form.dataset.served = "";
      else delete form.dataset.served;
    }
  }
}

function pendingChecks() {
  return queue.pending().filter(({ what, url }) => what === "checks" && url === visit.dataset.toldUrl);
}

/* ---- Showing ---- */

function show() {
  const done = new Set(known().checks);
  for (const { told } of pendingChecks()) {
    if (told.done) done.add(told.check);
    else done.delete(told.check);
  }
  for (const form of checks) {
    const isDone = done.has(form.dataset.check);
    const button = form.querySelector("button");
    button.setAttribute("aria-pressed", String(isDone));
    button.value = isDone ? "no" : "yes";
    button.querySelector(".site-box").textContent = isDone ? "✓" : "";
    button.querySelector(".row-note")?.toggleAttribute("hidden", !isDone);
  }
  const left = checks.length - done.size;
  document.querySelector("[data-checks-left]").textContent = left ? `${left} to go` : "All looked at";
  visit.dataset.waiting = queue.pending().length;
  say("");
}

function say(words) {
  const line = document.querySelector("[data-sheet-line]");
  const waiting = queue.pending().length;
  const text = words || (waiting ? `${waiting} not sent yet.` : "");
  if (line.textContent !== text) line.textContent = text;
}

/* ---- Pressing ---- */

document.addEventListener("submit", (event) => {
  const { target, submitter } = event;
  if (checks.includes(target)) {
    event.preventDefault();
    const told = { key: newKey(), check: target.dataset.check, done: submitter.value === "yes", at: new Date().toISOString() };
    queue.add(Number(visit.dataset.job), visit.dataset.toldUrl, "checks", told);
    show();
  } else if (!navigator.onLine && target.method === "post" && !target.matches("[data-clock]")) {
    event.preventDefault();
    sayNotSent(target);
  }
});

function sayNotSent(form) {
  const line = form.querySelector("[data-not-sent]") ?? document.createElement("p");
  line.className = "note note-warn";
  line.dataset.notSent = "";
  line.setAttribute("role", "status");
  line.textContent = NO_LINE;
  form.append(line);
}

const queue = new SheetQueue({
  said: (words) => say(words),
  answered: (job, now) => {
    if (now?.checks) learn(now);
    show();
    for (const words of now?.said ?? []) say(words);
  },
});

new SheetClocks({
  queue,
  urlOf: () => visit.dataset.workUrl,
  timezone: visit.dataset.timezone,
  changed: show,
});
show();
queue.flush();
