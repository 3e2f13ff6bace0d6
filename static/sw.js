// The page without the laptop. The server puts VERSION, FILES and LATER above this line:
// a hash over all files, the files to have before anything works, and those that can wait.
/* global VERSION, FILES, LATER */

const CACHE = `pitsplice-${VERSION}`;
const SHELL = "/";

async function fill(files) {
  const cache = await caches.open(CACHE);
  const there = new Set((await cache.keys()).map((request) => new URL(request.url).pathname));
  // "reload": the browser's own cache may still hold the version before.
  await cache.addAll(files.filter((file) => !there.has(file)).map((file) => new Request(file, { cache: "reload" })));
}

addEventListener("install", (event) => event.waitUntil(fill(FILES)));

addEventListener("activate", (event) => {
  const clean = async () => {
    for (const name of await caches.keys()) if (name.startsWith("pitsplice-") && name !== CACHE) await caches.delete(name);
    await clients.claim();
  };
  event.waitUntil(clean());
});

// An update waits until the page says that nobody is in the middle of a step.
addEventListener("message", (event) => {
  if (event.data === "take over") skipWaiting();
  if (event.data === "idle") event.waitUntil(fill(LATER).catch(() => {}));
});

/** The same rule as the server's: an address without a dot that is no /api and no /static is a page. */
const isPage = ({ pathname }) => !/^\/(api|static|trust)(\/|$)/.test(pathname) && !pathname.split("/").pop().includes(".");

async function kept(path, request) {
  const found = await (await caches.open(CACHE)).match(path, { ignoreSearch: true });
  return found ?? fetch(request);
}

addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (request.mode === "navigate") {
    if (isPage(url)) event.respondWith(kept(SHELL, request));
  } else if (FILES.includes(url.pathname) || LATER.includes(url.pathname)) {
    event.respondWith(kept(url.pathname, request));
  }
});
