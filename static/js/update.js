// The service worker: start it, tell when a new version waits, and put it in when a person says so.
import { status, tell } from "./offline/status.js";

const TAKEN_MS = 4000;
let pressed = false;

const offer = () => tell({ update: "ready" });

function watch(registration) {
  if (registration.waiting && navigator.serviceWorker.controller) offer();
  registration.addEventListener("updatefound", () => {
    const fresh = registration.installing;
    fresh?.addEventListener("statechange", () => fresh.state === "installed" && navigator.serviceWorker.controller && offer());
  });
}

export async function startUpdates() {
  if (!navigator.serviceWorker) return;
  const had = Boolean(navigator.serviceWorker.controller);
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (pressed) location.reload();
    // Another tab put the new version in; this one is not reloaded under its user.
    else if (had) tell({ update: "running" });
  });
  try {
    const registration = await navigator.serviceWorker.register("/sw.js", { type: "classic", updateViaCache: "none" });
    watch(registration);
    const { active } = await navigator.serviceWorker.ready;
    // The code reader is a megabyte: it comes when there is nothing else to do.
    (window.requestIdleCallback ?? setTimeout)(() => active.postMessage("idle"));
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && registration.update().catch(() => {}));
  } catch {
    // No service worker, on plain HTTP or where it is switched off: the page works, but not without the laptop.
  }
}

/** Load the new version. */
export async function takeUpdate() {
  pressed = true;
  const registration = await navigator.serviceWorker.getRegistration();
  if (!registration?.waiting) return location.reload();
  registration.waiting.postMessage("take over");
  // Chromium lets the new worker wait up to five minutes for one it thinks is still at work. With the
  // laptop in reach the old one can simply be given up: the page comes fresh and installs itself again.
  setTimeout(async () => {
    if (status().reach !== true) return tell({ said: "The new version could not start yet. Close the page and open it again later." });
    await registration.unregister();
    location.reload();
    return undefined;
  }, TAKEN_MS);
  return undefined;
}
