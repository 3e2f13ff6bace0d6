// The service worker: start it, tell when a new version waits, and put it in when a person says so.
import { tell } from "./offline/status.js";

let waiting = null;
let pressed = false;

function offer(worker) {
  waiting = worker;
  tell({ update: "ready" });
}

function watch(registration) {
  if (registration.waiting && navigator.serviceWorker.controller) offer(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const fresh = registration.installing;
    fresh?.addEventListener("statechange", () => fresh.state === "installed" && navigator.serviceWorker.controller && offer(fresh));
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
export function takeUpdate() {
  pressed = true;
  if (waiting) waiting.postMessage("take over");
  else location.reload();
}
