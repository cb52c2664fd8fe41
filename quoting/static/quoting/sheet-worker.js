/* Keeps sheets on this device, so that they open where there is no network. The network comes first:
   what is kept is shown only where there is no answer, or none in time. */
"use strict";

const KEPT_SHEETS = "garlandwright-sheets";
const SLOW_MS = 4000;
// A few weeks' sheets; the longest untouched go first.
const MOST_KEPT = 120;

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(clients.claim()));

addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  // Pages end in a slash; of the rest a sheet needs styles, scripts and fonts.
  const isPage = request.mode === "navigate" && pathname.endsWith("/");
  if (isPage || pathname.startsWith("/static/")) event.respondWith(networkFirst(request));
});

async function networkFirst(request) {
  const cache = await caches.open(KEPT_SHEETS);
  const fresh = fetch(request).then(async (response) => {
    // A login page in its place is not the sheet.
    if (response.ok && !response.redirected) await keep(cache, request, response.clone());
    return response;
  });
  try {
    return await Promise.race([fresh, late()]);
  } catch {
    const kept = await cache.match(request, { ignoreSearch: true, ignoreVary: true });
    return kept ?? fresh;
  }
}

async function keep(cache, request, response) {
  await cache.put(request, response);
  const kept = await cache.keys();
  for (const old of kept.slice(0, Math.max(0, kept.length - MOST_KEPT))) await cache.delete(old);
}

function late() {
  return new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error("too slow")), SLOW_MS);
  });
}
