// Mirrors core/tag.py: ids a gloved hand can copy, and reading the QR text of a tag.

import { translate } from "./lengths.js";
import { CoreProblem } from "./problems.js";
import { SPACE, isText, length, own, strip, words } from "./python.js";
import { tag as T } from "./tables.js";

export const { ID_COUNT } = T;
const { ALPHABET, DEMO, HEAD, ID_LENGTH, LONGEST_TYPED, WEIGHTS } = T;
const FIELDS = Object.fromEntries(Object.entries(T.KEYS).map(([field, key]) => [key, field]));
const KEY_START = new RegExp(`(?:^|[${SPACE}])(${Object.keys(FIELDS).join("|")}):`);
const HEAD_LINE = new RegExp(`^${HEAD} (?<id>[^${SPACE}]+)(?<demo> ${DEMO})?$`);
const NO_MATTER = new RegExp(`[${SPACE}-]`, "g");

const checkSum = (characters) =>
  [...characters].reduce((sum, character, i) => sum + WEIGHTS[i] * ALPHABET.indexOf(character), 0) % ALPHABET.length;

// The id for a random whole number, 0 to ID_COUNT - 1, that the caller drew.
export function makeId(randomNumber) {
  if (!Number.isInteger(randomNumber) || randomNumber < 0 || randomNumber >= ID_COUNT) {
    throw new RangeError(`randomNumber is ${randomNumber}; it must be 0 to ${ID_COUNT - 1}`);
  }
  let rest = randomNumber;
  let characters = "";
  for (let i = 1; i < ID_LENGTH; i += 1) {
    characters = ALPHABET[rest % ALPHABET.length] + characters;
    rest = Math.floor(rest / ALPHABET.length);
  }
  const sum = checkSum(characters);
  return characters + ALPHABET[sum ? ALPHABET.length - sum : 0];
}

export const idText = (id) => `${id.slice(0, 4)}-${id.slice(4)}`;

// The id in what a person typed, pasted or scanned; a character no id has is refused, never guessed.
export function readId(text) {
  const refuse = (title, next) => new CoreProblem("bad-id", title, { given: text, allowed: T.ID_SHAPE, next, field: "id", status: 400 });
  if (!isText(text) || length(text) > LONGEST_TYPED) {
    throw refuse("That is not an id.", `Type the ${ID_LENGTH} characters beside the code on the tag.`);
  }
  const characters = [...idPart(strip(translate(text.normalize("NFKC")).toUpperCase())).replace(NO_MATTER, "")];
  const odd = characters.findIndex((character) => !ALPHABET.includes(character));
  if (odd >= 0) {
    const character = characters[odd];
    const [title, hint] = own(T.LOOK_AGAIN, character)
      ? T.LOOK_AGAIN[character] : [`There is no "${character}" in an id.`, "An id has digits 2-9 and plain letters only."];
    throw refuse(title, `Look at character ${odd + 1} ("${character}") again. ${hint}`);
  }
  if (characters.length !== ID_LENGTH) {
    throw refuse(`An id has ${ID_LENGTH} characters; this has ${characters.length}.`,
      "Read the id beside the code on the tag, both groups of four.");
  }
  if (checkSum(characters)) {
    throw refuse("A character of this id is wrong, or two are swapped.", "Read the tag again. Look closely at 8 and B, 5 and S, 2 and Z, U and V.");
  }
  return characters.join("");
}

// After the tag's head, or at an address's end.
function idPart(text) {
  if (text.startsWith(HEAD)) {
    const rest = words(text.slice(HEAD.length));
    const half = ID_LENGTH / 2;
    if (rest.length > 1 && length(rest[0]) === half && length(rest[1]) === half && rest[1] !== DEMO) return rest[0] + rest[1];
    return rest[0] ?? "";
  }
  return text.replace(/\/+$/, "").split(/[/=#]/).at(-1);
}

// What a tag's QR text says: id, demo, essentials in the plain QR form.
export function readPayload(text) {
  const refuse = (title) => new CoreProblem("bad-tag", title, {
    given: text, allowed: `a text that starts with ${HEAD} and an id`, next: "Scan the code beside the id on the tag, or type the id.",
    field: "tag", status: 400,
  });
  const line = isText(text) && length(text) <= LONGEST_TYPED ? words(text.toUpperCase()).join(" ") : "";
  if (!line.startsWith(`${HEAD} `)) throw refuse("This code is not a tag of this program.");
  const [first, ...parts] = line.split(KEY_START);
  const keys = parts.filter((_, i) => i % 2 === 0);
  const texts = parts.filter((_, i) => i % 2 === 1);
  if (new Set(keys).size !== keys.length) throw refuse("This tag gives the same thing twice.");
  const head = HEAD_LINE.exec(first);
  if (!head) throw refuse("The start of this tag cannot be read.");
  const essentials = { id: readId(head.groups.id) };
  for (const field of Object.keys(T.KEYS)) essentials[field] = "";
  keys.forEach((key, i) => {
    essentials[FIELDS[key]] = strip(texts[i]);
  });
  return { id: essentials.id, demo: Boolean(head.groups.demo), essentials };
}
