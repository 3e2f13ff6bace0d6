// When the unsent list is sent: at the start, when the page is looked at again, when the network
// comes back, after a ping that the laptop answers, and when a person says so.
import { READ_MS, call } from "./wire.js";
import { status, tell } from "./status.js";

const FIRST_MS = 1000;
const LONGEST_MS = 60_000;
const LOOK_MS = 20_000;
const FRESH_MS = 2000;

/** One tab sends at a time. Without locks (plain HTTP) a second tab is held off by the keys alone. */
function withLock(work) {
  return navigator.locks ? navigator.locks.request("pitsplice-send", work) : work();
}

export function createSync({ outbox, onReached = async () => {}, onSent = async () => {} }) {
  let timer = null;
  let wait = FIRST_MS;
  let asked = 0;
  let line = Promise.resolve();
  let queued = null;
  let forced = false;

  /** Ask for /api/health; true when this really is the laptop. */
  async function see() {
    if (status().reach && Date.now() - asked < FRESH_MS) return true;
    let health = null;
    try {
      const answer = await call("GET", "/api/health", { limit: READ_MS });
      if (answer.ok && answer.body?.name === "Pitsplice") health = answer.body;
    } catch {
      // Out of reach, told by the chip.
    }
    const was = status().reach;
    if (status().reach !== Boolean(health)) tell({ reach: Boolean(health) });
    if (!health) return false;
    asked = Date.now();
    if (status().role !== health.role) tell({ role: health.role });
    await outbox?.sawLaptop(health);
    if (was !== true) onReached().catch(() => {});
    return true;
  }

  async function run(force) {
    if (!(await see())) return { sent: 0, reached: false };
    if (!outbox) return { sent: 0, reached: true };
    const done = await outbox.flush({ force });
    if (done.reached === false) tell({ reach: false });
    tell({ stopped: outbox.stopped() });
    if (done.sent) onSent().catch(() => {});
    return done;
  }

  /** Send now. Several wishes at once become one more run after the one that is under way. */
  function sendNow({ force = true } = {}) {
    forced ||= force;
    queued ??= new Promise((resolve, reject) => {
      const go = () => { const wish = forced; queued = null; forced = false; return run(wish); };
      line = line.then(() => withLock(go)).then(resolve, reject).then(plan);
    });
    return queued;
  }

  /** The laptop was out of reach for a screen: look again soon. */
  function lost() {
    if (status().reach === false) return;
    tell({ reach: false });
    wait = FIRST_MS;
    plan();
  }

  function plan() {
    clearTimeout(timer);
    const waiting = status().operations.some((op) => op.state === "waiting");
    const away = status().reach === false;
    // navigator.onLine is no evidence either way: only an answer is.
    if (!away && !waiting) wait = FIRST_MS;
    const rest = away || waiting ? wait * (0.5 + Math.random() / 2) : LOOK_MS;
    timer = setTimeout(() => {
      // Only a try of its own makes the next one wait longer; what a person does in between does not.
      wait = Math.min(LONGEST_MS, wait * 2);
      if (document.visibilityState === "visible") sendNow({ force: false });
      else plan();
    }, rest);
  }

  function start() {
    const soon = () => { wait = FIRST_MS; asked = 0; sendNow({ force: true }); };
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && soon());
    addEventListener("online", soon);
    soon();
  }

  return { start, sendNow, lost, reached: () => { if (!status().reach) sendNow({ force: true }); } };
}
