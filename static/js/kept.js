// Small things this phone keeps for itself: the person's name and what is typed but not saved.

function read(name) {
  try {
    return localStorage.getItem(name);
  } catch {
    return null; // A private window may refuse; the page still works.
  }
}

function store(name, value) {
  try {
    if (value === null) localStorage.removeItem(name);
    else localStorage.setItem(name, value);
  } catch {
    // Nothing to do: what is saved on the laptop is not touched by this.
  }
}

export const who = () => read("who") || "";
export const setWho = (name) => store("who", name.trim());

/** The restore this phone's person has read about: its time. */
export const restoreRead = () => read("restore read");
export const setRestoreRead = (at) => store("restore read", at);

export function draft(job, section) {
  try {
    return JSON.parse(read(`draft ${job} ${section}`));
  } catch {
    return null;
  }
}
export const keepDraft = (job, section, data) => store(`draft ${job} ${section}`, JSON.stringify(data));
export const dropDraft = (job, section) => store(`draft ${job} ${section}`, null);
