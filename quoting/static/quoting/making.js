/* Counting at the bench. A press counts at once, here; sheet-queue.js tells the server when it can.
   What is shown is what the server knew last, and what it has not been told yet on top. */
"use strict";

const KNOWN = "garlandwright.sheet.";
const UNDO_MS = 5000;

const sheet = document.querySelector("[data-making]");
const cards = [...document.querySelectorAll("[data-card]")];
const urls = JSON.parse(sheet?.dataset.urls ?? "{}");
const known = {};

function partsOf(card) {
  return (card.parts ??= JSON.parse(card.dataset.parts));
}

/* ---- What is known: the page as it was served, or a later answer that this device remembers ---- */

function learn(job, at, counts) {
  if (known[job] && known[job].at >= at) return;
  known[job] = { at, counts };
  try {
    localStorage.setItem(KNOWN + job, JSON.stringify(known[job]));
  } catch {
    /* it is still shown, until the page is left */
  }
}

function recallKnown() {
  for (const job of Object.keys(urls)) {
    const counts = {};
    for (const card of cards) {
      for (const part of partsOf(card)) if (String(part.job) === job) counts[part.step] = part.count;
    }
    known[job] = { at: sheet.dataset.at, counts };
    try {
      const later = JSON.parse(localStorage.getItem(KNOWN + job));
      if (later && later.at > sheet.dataset.at) known[job] = later;
    } catch {
      /* nothing later is remembered */
    }
  }
}

function countOf(part, pending) {
  const told = pending.filter(({ job, what, told: each }) => what === "ticks" && job === part.job && each.step === part.step);
  const more = told.reduce((sum, { told: each }) => sum + each.quantity, 0);
  return Math.max(0, (known[part.job]?.counts[part.step] ?? 0) + more);
}

/* ---- Showing ---- */

function say(words) {
  const line = document.querySelector("[data-sheet-line]");
  const waiting = queue.pending().length;
  const text = words || (waiting ? `${waiting} not sent yet.` : "");
  if (line.textContent !== text) line.textContent = text;
}

function show() {
  const pending = queue.pending();
  sheet.dataset.waiting = pending.length;
  let left = 0;
  let done = 0;
  for (const card of cards) {
    const parts = partsOf(card);
    const counts = parts.map((part) => countOf(part, pending));
    const isDone = parts.every((part, at) => counts[at] >= part.target);
    const total = counts.reduce((sum, count) => sum + count, 0);
    const output = card.querySelector("[data-count]");
    if (output && output.textContent !== String(total)) output.textContent = total;
    card.querySelectorAll("[data-share-count]").forEach((share, at) => { share.textContent = counts[at]; });
    card.classList.toggle("is-done", isDone);
    card.querySelector(".making-minus").disabled = total === 0;
    const once = card.querySelector("[data-once]");
    if (once) once.disabled = isDone;
    parts.forEach((part, at) => {
      done += card.dataset.seconds * Math.min(counts[at], part.target);
      left += card.dataset.seconds * Math.max(0, part.target - counts[at]);
    });
  }
  showProgress(done, left);
  showColours();
}

function showProgress(done, left) {
  const bar = sheet.querySelector("progress");
  const percent = done + left ? Math.floor((100 * done) / (done + left)) : 0;
  bar.value = done;
  bar.textContent = sheet.querySelector("[data-percent]").textContent = `${percent} %`;
  if (!show.isLater) {
    show.isLater = true; /* the page says it well as it was served */
    return;
  }
  const seconds = (left * sheet.dataset.factor) / sheet.dataset.people;
  const at = clockText(new Date(Date.now() + 1000 * seconds), sheet.dataset.timezone);
  const isAllDone = cards.every((card) => card.classList.contains("is-done"));
  sheet.querySelector("[data-finish]").textContent = isAllDone ? "Everything is made." : `${inHours(seconds)} left: done about ${at}`;
}

function inHours(seconds) {
  const minutes = 5 * Math.ceil(seconds / 300);
  const hours = Math.floor(minutes / 60);
  if (!hours) return `${minutes} min`;
  return minutes % 60 ? `${hours} h ${minutes % 60} min` : `${hours} h`;
}

/* ---- One colour at a time ---- */

const sections = [...document.querySelectorAll("[data-section]")];

function isDone(section) {
  return [...section.querySelectorAll("[data-card]")].every((card) => card.classList.contains("is-done"));
}

function showColours() {
  for (const link of document.querySelectorAll("[data-colours] a")) {
    const section = document.getElementById(link.hash.slice(1));
    link.classList.toggle("is-done", isDone(section));
    link.querySelector("[data-done-mark]").hidden = !isDone(section);
  }
}

function turnTo(section) {
  for (const each of sections) each.hidden = each !== section;
  for (const link of document.querySelectorAll("[data-colours] a")) {
    if (link.hash === `#${section.id}`) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
  }
}

function turnToHash() {
  const named = sections.find(({ id }) => `#${id}` === location.hash);
  const next = sections.find((section) => !isDone(section)) ?? sections[0];
  if (named ?? next) turnTo(named ?? next);
}

function addNextLinks() {
  sections.slice(0, -1).forEach((section, at) => {
    const next = sections[at + 1];
    const link = document.createElement("a");
    link.className = "btn making-next";
    link.href = `#${next.id}`;
    link.textContent = `Next: ${next.querySelector("h2").textContent.trim()}`;
    section.append(link);
  });
}

/* ---- Pressing ---- */

/* As cards.py shares it out: up, the first that is not done; down, the last that has any. */
function sharedOut(quantity, parts, counts) {
  const shares = parts.map(() => 0);
  let rest = Math.abs(quantity);
  if (quantity < 0) {
    for (let at = parts.length - 1; at >= 0; at -= 1) {
      const share = Math.min(rest, counts[at]);
      shares[at] = -share;
      rest -= share;
    }
    return shares;
  }
  parts.forEach((part, at) => {
    shares[at] = Math.min(rest, Math.max(0, part.target - counts[at]));
    rest -= shares[at];
  });
  shares[shares.length - 1] += rest;
  return shares;
}

function count(card, quantity) {
  const parts = partsOf(card);
  const pending = queue.pending();
  const shares = sharedOut(quantity, parts, parts.map((part) => countOf(part, pending)));
  parts.forEach((part, at) => {
    if (!shares[at]) return;
    const told = { key: newKey(), step: part.step, quantity: shares[at], at: new Date().toISOString() };
    if (card.dataset.bag) told.bag = Number(card.dataset.bag);
    queue.add(part.job, urls[part.job], "ticks", told);
  });
  show();
}

function burst(card, form, reason) {
  const pending = queue.pending();
  const part = partsOf(card).find((each) => countOf(each, pending) < each.target) ?? partsOf(card)[0];
  const told = { key: newKey(), step: part.step, reason, at: new Date().toISOString() };
  if (form.elements.bag) told.bag = Number(form.elements.bag.value);
  const entry = queue.add(part.job, urls[part.job], "popped", told, UNDO_MS);
  form.querySelector("details").open = false;
  card.lost = (card.lost ?? 0) + 1;
  sayLost(card, form, entry);
}

/* A thumb slips: for a moment it can be taken back, before the server is told. */
function sayLost(card, form, entry) {
  const place = form.querySelector("[data-popped]");
  place.dataset.popped ||= Number.parseInt(place.textContent, 10) || 0;
  const total = Number(place.dataset.popped) + card.lost;
  place.textContent = total ? `${total} so far` : "";
  form.querySelector("[data-undo]")?.remove();
  if (!entry) return;
  const undo = document.createElement("button");
  undo.type = "button";
  undo.className = "btn making-popped";
  undo.dataset.undo = "";
  undo.textContent = "Undo";
  undo.addEventListener("click", () => {
    queue.drop([entry]);
    card.lost -= 1;
    sayLost(card, form, null);
  });
  place.after(undo);
  setTimeout(() => undo.remove(), UNDO_MS);
}

document.addEventListener("submit", (event) => {
  const { target, submitter } = event;
  const card = target.closest("[data-card]");
  if (target.matches("[data-count-form]")) count(card, Number(submitter.value));
  else if (target.matches("[data-burst-form]")) burst(card, target, submitter.value);
  else return;
  event.preventDefault();
});

/* ---- What the server answers ---- */

function tellFrom(from) {
  for (const card of cards) {
    const [part] = partsOf(card);
    const now = from[part.step];
    if (!now || partsOf(card).length > 1) continue;
    card.dataset.bag = now.bag ?? "";
    const words = card.querySelector("[data-from]");
    if (words) words.textContent = now.words ? now.words[0].toUpperCase() + now.words.slice(1) : "";
  }
}

function tellSaid(said) {
  const place = document.querySelector(".messages");
  for (const words of said) {
    const line = document.createElement("p");
    line.className = "said said-warning";
    line.textContent = words;
    place.append(line);
  }
  if (said.length) place.scrollIntoView({ block: "nearest" });
}

const queue = new SheetQueue({
  said: (words) => sheet && say(words),
  answered: (job, now) => {
    if (now?.counts) {
      learn(job, now.at, now.counts);
      Object.assign(sheet.dataset, { factor: now.factor, people: now.people });
      tellFrom(now.from);
      tellSaid(now.said);
    } else {
      recallKnown(); /* another window has told the server, or it was told from a visit's sheet */
    }
    show();
    say("");
  },
});

if (sheet) {
  document.querySelector("[data-line-status]")?.remove(); /* the sheet says it itself */
  recallKnown();
  new SheetClocks({ queue, urlOf: (job) => urls[job], timezone: sheet.dataset.timezone, changed: show });
  addNextLinks();
  show();
  turnToHash();
  say("");
  addEventListener("hashchange", turnToHash);
  queue.flush();
}
