// An error a person is shown: the laptop's problem+json, or one of the same form made here.

export class Trouble extends Error {
  constructor(body, status) {
    super(body.title || "That did not work.");
    this.body = body;
    this.status = status;
  }
}

const OUT_OF_REACH = { type: "urn:pitsplice:problem:out-of-reach", given: "no answer", allowed: "the laptop running, on the same Wi-Fi as this phone.", next: "Check the Wi-Fi and the laptop, then press the same button again." };

export const nothingSaved = () => new Trouble({ ...OUT_OF_REACH, title: "The laptop does not answer. Nothing was saved." }, 0);
export const notKeptHere = () => new Trouble({ ...OUT_OF_REACH, title: "The laptop does not answer, and this phone has not opened this before.", next: "Come back into the laptop's Wi-Fi and open it once; from then on it opens here without it." }, 0);
export const needsLaptop = (what) => new Trouble({ ...OUT_OF_REACH, title: `${what} needs the laptop, and the laptop does not answer.`, next: "Come back into the laptop's Wi-Fi, then try again." }, 0);
export const cannotCompute = () => new Trouble({ ...OUT_OF_REACH, title: "The laptop does not answer, and this phone cannot work this out by itself.", next: "Come back into the laptop's Wi-Fi, then try again." }, 0);
export const notForRole = (role) => new Trouble({ type: "urn:pitsplice:problem:not-allowed-for-role", title: "This phone's role may not do that.", given: `role ${role}`, allowed: "a phone with role plan, or the laptop itself.", next: "Do it on the laptop, or ask for another pairing." }, 403);
export const notSentYet = (count) => new Trouble({ type: "urn:pitsplice:problem:not-sent-yet", title: "The laptop does not have everything of this job yet.", given: `${count} not sent`, allowed: "a job whose marks are all on the laptop.", next: "Open Not sent yet, send what is there, then seal." }, 0);
