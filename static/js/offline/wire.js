// One request to the laptop, with a limit on how long it may take.

const SHORT_MS = 900;
export const READ_MS = 4000;
export const WRITE_MS = 10_000;

/** Send and read one answer. Throws where none came in time. */
export async function call(method, path, { body, key, type = "application/json", limit = READ_MS } = {}) {
  const headers = { Accept: "application/json" };
  if (body !== undefined) headers["Content-Type"] = type;
  if (key) headers["Idempotency-Key"] = key;
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), limit);
  try {
    const response = await fetch(path, { method, headers, body, signal: stop.signal, redirect: "manual" });
    const kind = (response.headers.get("Content-Type") || "").split(";")[0].trim();
    const data = kind.endsWith("json") ? await response.json().catch(() => null) : null;
    const text = data === null && kind === "image/svg+xml" ? await response.text() : null;
    return { status: response.status, ok: response.ok, kind, echo: response.headers.get("Idempotency-Key"), body: data, text, retryAfter: Number(response.headers.get("Retry-After")) || 0 };
  } finally {
    clearTimeout(timer);
  }
}

/** A laptop that has just not answered is not waited for as long again. */
export const readLimit = (reach) => (reach === false ? SHORT_MS : READ_MS);

export function randomHex(bytes) {
  return Array.from(crypto.getRandomValues(new Uint8Array(bytes)), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
