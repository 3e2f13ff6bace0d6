// Talks to the laptop. Every write carries a key of its own, so that a repeat after a lost
// answer is answered the same and nothing is written twice.

export class Trouble extends Error {
  constructor(body, status) {
    super(body.title || "That did not work.");
    this.body = body;
    this.status = status;
  }
}

const OUT_OF_REACH = {
  type: "urn:pitsplice:problem:out-of-reach",
  title: "The laptop does not answer. Nothing was saved.",
  given: "no answer",
  allowed: "the laptop running, on the same Wi-Fi as this phone.",
  next: "Check the Wi-Fi and the laptop, then press the same button again.",
};

export function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function send(method, path, { body, key, type = "application/json" } = {}) {
  const headers = { Accept: "application/json" };
  if (body !== undefined) headers["Content-Type"] = type;
  if (key) headers["Idempotency-Key"] = key;
  let response;
  try {
    response = await fetch(path, {
      method,
      headers,
      body: body === undefined ? undefined : type === "application/json" ? JSON.stringify(body) : body,
    });
  } catch {
    throw new Trouble(OUT_OF_REACH, 0);
  }
  // A captive portal answers 200 with a page of its own: only our JSON counts.
  const kind = response.headers.get("Content-Type") || "";
  if (!kind.includes("json")) throw new Trouble(OUT_OF_REACH, response.status);
  const answer = await response.json();
  if (!response.ok) throw new Trouble(answer, response.status);
  return answer;
}

export const get = (path) => send("GET", path);
export const ask = (path, body) => send("POST", path, { body });

// Keys of writes whose answer has not come: the same press again reuses its key.
const waiting = new Map();

export async function write(method, path, body, type) {
  const what = `${method} ${path} ${typeof body === "string" ? body : JSON.stringify(body)}`;
  const key = waiting.get(what) ?? newKey();
  waiting.set(what, key);
  try {
    const answer = await send(method, path, { body, key, type });
    waiting.delete(what);
    return answer;
  } catch (trouble) {
    if (trouble.status >= 400 && trouble.status < 500) waiting.delete(what);
    throw trouble;
  }
}

export const post = (path, body) => write("POST", path, body);
export const put = (path, body) => write("PUT", path, body);
