// What every screen's frame tells: reach of the laptop, what is not sent, what was computed here.

const state = {
  reach: null, // true, false, or null before the laptop was asked
  role: null, // what the laptop lets this phone do, as it last said: plan, weld, view, or null
  keeps: null, // whether this phone can keep anything
  operations: [], // the unsent list as it stands
  stopped: null, // the problem that stopped the list
  keptFrom: new Map(), // address → when the answer on the screen was kept
  computedHere: new Set(), // computations on the screen that this phone made
  mismatches: [], // computed here and on the laptop with different results
  said: "", // the last thing kept, in words
  update: null, // a new version that waits
  persisted: null, // the browser's answer to keeping the data for good
};
const listeners = new Set();

export const status = () => state;

export function tell(part) {
  Object.assign(state, part);
  for (const listener of listeners) listener();
}

export function onStatus(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

export function shownFrom(path, at) {
  if (at === null ? !state.keptFrom.delete(path) : state.keptFrom.get(path) === at) return;
  if (at !== null) state.keptFrom.set(path, at);
  tell({});
}

export function shownHere(path, on = true) {
  if (state.computedHere.has(path) === on) return;
  state.computedHere[on ? "add" : "delete"](path);
  tell({});
}

/** Another screen: what the one before showed does not count any more. */
export function forgetShown() {
  state.keptFrom.clear();
  state.computedHere.clear();
  tell({ said: "" });
}

// Screens with an entry that is not finished: no new version is put under them.
const busy = new Set();
export function setBusy(name, on) {
  if (busy.has(name) === on) return;
  busy[on ? "add" : "delete"](name);
  tell({});
}
export const isBusy = () => busy.size > 0;
