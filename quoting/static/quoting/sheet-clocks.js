/* Clocks of work time on a sheet. A press counts at once, here; sheet-queue.js tells the server.

     form[data-clock][data-job]     starts and stops one; data-visit="<pk>" where it runs at a visit */
"use strict";

class SheetClocks {
  constructor({ queue, urlOf, timezone, changed }) {
    Object.assign(this, { queue, urlOf, timezone, changed });
    this.forms = [...document.querySelectorAll("[data-clock]")];
    for (const { what, job, told } of queue.pending()) {
      const form = what === "work" && this.forms.find(
        ({ dataset, elements }) => Number(dataset.job) === job && elements.phase.value === told.phase,
      );
      if (form) this.show(form, told);
    }
    document.addEventListener("submit", (event) => {
      if (!this.forms.includes(event.target)) return;
      event.preventDefault();
      this.press(event.target);
    });
  }

  press(form) {
    const { phase, people } = form.elements;
    const isRunning = Boolean(form.dataset.key);
    const now = new Date().toISOString();
    const told = {
      key: isRunning ? form.dataset.key : newKey(),
      phase: phase.value,
      people: Number(people.value),
      started_at: isRunning ? form.dataset.started : now,
    };
    if (form.dataset.visit) told.visit = Number(form.dataset.visit);
    if (isRunning) told.stopped_at = now;
    const job = Number(form.dataset.job);
    this.queue.add(job, this.urlOf(job), "work", told);
    this.show(form, told);
    this.changed();
  }

  show(form, told) {
    if (told.stopped_at) delete form.dataset.key;
    else Object.assign(form.dataset, { key: told.key, started: told.started_at });
    form.querySelector("[data-clock-word]").textContent = told.stopped_at ? "Start" : "Stop";
    const at = clockText(new Date(told.started_at), this.timezone);
    form.closest("li").querySelector("[data-clock-state]").textContent = told.stopped_at ? "" : `running since ${at} · `;
    const running = this.forms.filter(({ dataset }) => dataset.key);
    document.querySelector("[data-clock-now]").textContent = running.map(({ elements }) => elements.phase.value).join(", ");
  }
}

/* In the business's own time, as the page says it. */
function clockText(moment, timezone) {
  const told = moment.toLocaleTimeString("en-US", { hour: "numeric", minute: "2-digit", timeZone: timezone });
  return told.replace(/\s?AM$/, " a.m.").replace(/\s?PM$/, " p.m.");
}
