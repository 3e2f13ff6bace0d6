// Page addresses. Links are plain links; this keeps the page loaded while moving between them.
import { useEffect, useState } from "../vendor/preact-htm/standalone.module.js";

const listeners = new Set();

export function go(path, replace = false) {
  history[replace ? "replaceState" : "pushState"](null, "", path);
  for (const listener of listeners) listener();
  scrollTo(0, 0);
}

export function usePath() {
  const [path, setPath] = useState(location.pathname);
  useEffect(() => {
    const update = () => setPath(location.pathname);
    listeners.add(update);
    addEventListener("popstate", update);
    return () => {
      listeners.delete(update);
      removeEventListener("popstate", update);
    };
  }, []);
  return path;
}

export function followLinks(event) {
  const link = event.target.closest?.("a[href^='/']");
  const plain = event.button === 0 && !event.metaKey && !event.ctrlKey && !event.shiftKey;
  if (!link || !plain || link.target || link.hasAttribute("download") || link.pathname.startsWith("/api/")) return;
  event.preventDefault();
  go(link.pathname);
}
