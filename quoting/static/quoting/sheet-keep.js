/* Keeps this sheet on the device, so that it opens where there is no network: sheet-worker.js.

     data-sheet-worker="<address>" data-scope="<path>"   a worker there keeps the sheets under a path

   This very page was loaded before the worker was there, so it is handed over with all that it is
   made of. */
"use strict";

const KEPT_SHEETS = "garlandwright-sheets";

async function keepSheets({ sheetWorker, scope }) {
  if (!navigator.serviceWorker) return;
  try {
    const isKeptAlready = navigator.serviceWorker.controller !== null;
    await navigator.serviceWorker.register(sheetWorker, { scope });
    await navigator.serviceWorker.ready;
    if (isKeptAlready) return;
    const parts = performance.getEntriesByType("resource").map(({ name }) => new URL(name));
    const ours = parts.filter(({ origin, pathname }) => origin === location.origin && pathname.startsWith("/static/"));
    const cache = await caches.open(KEPT_SHEETS);
    await cache.addAll([...new Set([location.pathname, ...ours.map(({ href }) => href)])]);
    document.documentElement.dataset.sheetKept = "";
  } catch {
    /* without it the sheet works as long as it is open */
  }
}

for (const { dataset } of document.querySelectorAll("[data-sheet-worker]")) keepSheets(dataset);
