/* What is told on a sheet waits on this device until the server has it. Each thing told has a key of
   its own, so that the server takes it once, however often it is sent. It is kept one by one, under
   keep.js's prefix, so that two windows do not write over each other and logging out asks first. */
"use strict";

const TOLD = "garlandwright.keep.told.";
const TOLD_AT_ONCE = 200;
const TELL_AFTER_MS = 300;
const TELL_AGAIN_MS = 10000;
const TELL_PATIENCE_MS = 15000;

const NOT_SENT = {
  offline: "No network. What you press is kept on this device and sent later.",
  loggedOut: "You are logged out. What you pressed is kept on this device: open this page again to log in.",
  broke: "The app could not take it yet. What you pressed is kept on this device and sent again.",
};

class SheetQueue {
  constructor({ answered, said }) {
    this.answered = answered;
    this.said = said;
    this.sending = false;
    this.next = 0;
    this.inMemory = new Map();
    addEventListener("online", () => {
      this.said("");
      this.flush();
    });
    addEventListener("offline", () => this.said(NOT_SENT.offline));
    addEventListener("storage", () => this.answered(null, null));
    document.addEventListener("visibilitychange", () => {
      if (!document.hidden) this.flush();
    });
    setInterval(() => this.flush(), TELL_AGAIN_MS);
  }

  /* `what` is ticks, popped, work or checks: the lists that the server knows. What can be taken back waits. */
  add(job, url, what, told, waitMs = 0) {
    const name = `${TOLD}${Date.now()}.${what}.${newKey()}`;
    const entry = { job, url, what, told, due: Date.now() + waitMs };
    try {
      localStorage.setItem(name, JSON.stringify(entry));
    } catch {
      this.inMemory.set(name, entry);
    }
    setTimeout(() => this.flush(), waitMs + TELL_AFTER_MS);
    return { name, ...entry };
  }

  pending() {
    const found = [...this.inMemory].map(([name, entry]) => ({ name, ...entry }));
    try {
      for (const name of Object.keys(localStorage).filter((each) => each.startsWith(TOLD))) {
        found.push({ name, ...JSON.parse(localStorage.getItem(name)) });
      }
    } catch {
      /* nothing is kept there */
    }
    return found.sort((one, other) => (one.name < other.name ? -1 : 1));
  }

  due() {
    return this.pending().filter(({ due }) => due <= Date.now());
  }

  drop(entries) {
    for (const { name } of entries) {
      this.inMemory.delete(name);
      try {
        localStorage.removeItem(name);
      } catch {
        /* it was never there */
      }
    }
  }

  async flush() {
    if (this.sending) return;
    this.sending = true;
    try {
      for (let due = this.due(); due.length; due = this.due()) {
        const batch = due.filter(({ url }) => url === due[0].url).slice(0, TOLD_AT_ONCE);
        if (!(await this.send(due[0].url, due[0].job, batch))) break;
      }
    } finally {
      this.sending = false;
    }
    const later = this.pending().map(({ due }) => due - Date.now()).filter((wait) => wait > 0);
    clearTimeout(this.next);
    if (later.length) this.next = setTimeout(() => this.flush(), Math.min(...later) + TELL_AFTER_MS);
  }

  async send(url, job, batch) {
    const body = {};
    for (const { what, told } of batch) (body[what] ??= []).push(told);
    let answer;
    try {
      answer = await fetch(url, {
        method: "POST",
        headers: { "Content-Type": "application/json", "X-CSRFToken": csrfToken() },
        body: JSON.stringify(body),
        redirect: "manual",
        signal: AbortSignal.timeout(TELL_PATIENCE_MS),
      });
    } catch {
      this.said(NOT_SENT.offline);
      return false;
    }
    if (answer.type === "opaqueredirect" || answer.status === 403) {
      this.said(NOT_SENT.loggedOut);
      return false;
    }
    if (!answer.ok) {
      this.said(NOT_SENT.broke);
      return false;
    }
    const now = await answer.json();
    const over = new Set([...now.taken, ...now.refused.map(({ key }) => key)]);
    const done = batch.filter(({ told }) => over.has(told.key));
    this.drop(done);
    this.said("");
    this.answered(job, now);
    return done.length > 0;
  }
}

function csrfToken() {
  return document.cookie.match(/(?:^|; )csrftoken=([^;]+)/)?.[1] ?? "";
}

/* Over plain http, as in one's own network, a browser makes no UUID by itself. */
function newKey() {
  if (crypto.randomUUID) return crypto.randomUUID();
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
