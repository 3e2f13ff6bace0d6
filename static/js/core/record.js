// Mirrors core/record.py: whether a sealed record and its amendments still match their seals.
// Works on the text the laptop sent: 2.0 and 2 are one number in JavaScript and two in a seal.

// Text and numbers, each told apart by a first letter, so that JSON.parse keeps a number as it was written.
const TOKENS = /"((?:[^"\\]|\\.)*)"|-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/g;
const parse = (text) => JSON.parse(text.replace(TOKENS, (token, inner) => (inner === undefined ? `"n${token}"` : `"s${inner}"`)));

const byCodePoint = (a, b) => {
  const [first, second] = [Array.from(a, (c) => c.codePointAt(0)), Array.from(b, (c) => c.codePointAt(0))];
  const place = first.findIndex((code, i) => code !== second[i]);
  return place < 0 ? first.length - second.length : first[place] - (second[place] ?? -1);
};

// The one byte form: keys sorted by code point, no spaces.
function canonical(value) {
  if (typeof value === "string") return value[0] === "n" ? value.slice(1) : JSON.stringify(value.slice(1));
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (value === null || typeof value !== "object") return String(value);
  return `{${Object.keys(value).sort(byCodePoint).map((key) => `${canonical(key)}:${canonical(value[key])}`).join(",")}}`;
}

async function seal(value) {
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(canonical(value)));
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

const member = (object, name) => (object && typeof object === "object" && !Array.isArray(object) ? object[`s${name}`] : undefined);
const plain = (value) => (typeof value === "string" ? value.slice(1) : value);

// What does not match, one sentence each; an empty list if all does. `text`: the body of GET /api/records/<id>.
export async function verifyText(text) {
  const record = parse(text);
  const findings = [];
  const body = member(record, "body");
  if ((await seal(body)) !== plain(member(record, "sha256"))) {
    findings.push("The record does not match its seal: it was changed after sealing, or the file is damaged.");
  }
  for (const name of ["id", "sealed_at", "sealed_by"]) {
    if (member(body, name) !== member(record, name)) {
      findings.push(`The ${name.replace("_", " ")} beside the record differs from the one inside it.`);
    }
  }
  let previous = member(record, "sha256");
  for (const [index, item] of member(record, "amendments").entries()) {
    const number = plain(member(item, "number"));
    if (number !== String(index + 1)) findings.push(`Amendment ${index + 1} is missing or out of order: number ${number} stands there.`);
    if (member(item, "previous_sha256") !== previous) findings.push(`Amendment ${number} does not follow on from what stands before it.`);
    const chained = { sprevious: member(item, "previous_sha256"), snumber: member(item, "number") };
    for (const name of ["at", "who", "text"]) chained[`s${name}`] = member(item, name);
    if ((await seal(chained)) !== plain(member(item, "sha256"))) {
      findings.push(`Amendment ${number} does not match its hash: it was changed after it was written.`);
    }
    previous = member(item, "sha256");
  }
  return findings;
}
