"""The tag: an id a gloved hand can copy, and the QR text that is readable with no server.

An id is 7 random characters and 1 check character. The alphabet has no 0, O, 1, I or L,
and 31 characters: because 31 is prime, a weighted sum with distinct non-zero weights
finds every single wrong character and every swap of two characters.

The QR text stays inside the alphanumeric set of ISO/IEC 18004, so that any phone camera
shows it as plain words. No address is in it: an id outlives the laptop's address.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import Any

from core.lengths import MARKS
from core.problems import Problem

ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
ID_LENGTH = 8
# Distinct and non-zero modulo 31; the last one is 1, so that the check character is plain.
WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 1)
ID_COUNT = len(ALPHABET) ** (ID_LENGTH - 1)

# ISO/IEC 18004, alphanumeric mode.
QR_CHARACTERS = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
# Version 6 at error correction level M: 41 modules a side, 39.2 mm with its quiet zone.
LONGEST_PAYLOAD = 154
LONGEST_TYPED = 2000
HEAD = "PITSPLICE"
DEMO = "DEMO"
CUT = ".."
# A colon ends each key and is taken out of free text, so that no material name can pose as a key.
KEYS = {
    "tube": "TUBE", "sleeve": "SLEEVE", "end": "END", "mitre_deg": "MITRE",
    "length": "LEN", "date": "DATE", "method": "METHOD",
}  # fmt: skip
FIELDS = {key: field for field, key in KEYS.items()}
KEY_START = re.compile(rf"(?:^|\s)({'|'.join(FIELDS)}):")
HEAD_LINE = re.compile(rf"{HEAD} (?P<id>\S+)(?P<demo> {DEMO})?")
ID_SHAPE = "8 characters from 2-9 and A-Z without I, L and O, such as 7K3M-9QX3"

# What a missing character is mistaken for most: the advice names shapes, it never swaps them in.
LOOK_AGAIN = {
    **dict.fromkeys("0O", ("There is no O or 0 in an id.", "Look for a Q, D, C or G there.")),
    **dict.fromkeys("1IL", ("There is no I, L or 1 in an id.", "Look for a T, J or 7 there.")),
}


@dataclass(frozen=True)
class TagEssentials:
    """What a tag tells with no server at hand; texts as a person reads them.

    Attributes
    ----------
    id : str
        The record's id, 8 characters.
    tube, sleeve : str
        Size and material of the damaged tube and of the sleeve.
    end : str
        End shape of the sleeve: square, scarf, pointed or fishmouth.
    mitre_deg : str
        Saw mitre from square, degrees.
    length : str
        Sleeve length.
    date : str
        Day the record was sealed, ISO 8601.
    method : str
        Repair method.
    """

    id: str
    tube: str
    sleeve: str
    end: str
    mitre_deg: str
    length: str
    date: str
    method: str


def check_sum(characters: str) -> int:
    """Return the weighted sum of the characters' places in the alphabet, modulo 31.

    Sum of w_i·c_i mod 31 with w = 8, 7, ..., 1; an id is whole when it is 0.

    Source: standard weighted check over a prime field, from memory.

    >>> check_sum("7K3M9QX3")
    0
    """
    places = (ALPHABET.index(character) for character in characters)
    return sum(weight * place for weight, place in zip(WEIGHTS, places, strict=False)) % len(ALPHABET)


def make_id(random_number: int) -> str:
    """Return the id for a random number the caller drew.

    Parameters
    ----------
    random_number : int
        0 to 31^7 - 1 (27 512 614 110), from a source of even randomness.

    Returns
    -------
    str
        8 characters, the last one the check character.

    Raises
    ------
    ValueError
        A number outside the range: a fault in the caller, not in what a person typed.

    Source: common practice, no source.

    >>> make_id(0), make_id(12345678901)
    ('22222222', 'FX93Q8HK')
    """
    if not 0 <= random_number < ID_COUNT:
        raise ValueError(f"random_number is {random_number}; it must be 0 to {ID_COUNT - 1}")
    characters = ""
    for _ in range(ID_LENGTH - 1):
        random_number, place = divmod(random_number, len(ALPHABET))
        characters = ALPHABET[place] + characters
    return characters + ALPHABET[-check_sum(characters) % len(ALPHABET)]


def id_text(id: str) -> str:
    """Return the id in two groups of four, for eyes.

    Parameters
    ----------
    id : str
        8 characters.

    Returns
    -------
    str

    Source: common practice, no source.

    >>> id_text("7K3M9QX3")
    '7K3M-9QX3'
    """
    return f"{id[:4]}-{id[4:]}"


def read_id(text: str) -> str:
    """Return the id in what a person typed, pasted or scanned.

    Case, spaces and hyphens do not matter. A whole tag text and an address that ends in
    the id are read too. A character that no id has is refused, never guessed.

    Parameters
    ----------
    text : str

    Returns
    -------
    str
        8 characters without a hyphen.

    Raises
    ------
    Problem
        "bad-id" (400): a character outside the alphabet, a wrong count, or a failed check.

    Source: common practice, no source.

    >>> read_id(" 7k3m 9qx3 "), read_id("http://10.0.0.2:8000/r/7K3M-9QX3/")
    ('7K3M9QX3', '7K3M9QX3')
    >>> read_id("PITSPLICE 7K3M-9QX3 TUBE:1.625X.120")
    '7K3M9QX3'
    """
    if not isinstance(text, str) or len(text) > LONGEST_TYPED:
        raise _bad_id(text, "That is not an id.", f"Type the {ID_LENGTH} characters beside the code on the tag.")
    found = _id_part(unicodedata.normalize("NFKC", text).translate(MARKS).upper().strip())
    characters = re.sub(r"[\s-]", "", found)
    for place, character in enumerate(characters, start=1):
        if character not in ALPHABET:
            title, hint = LOOK_AGAIN.get(
                character, (f'There is no "{character}" in an id.', "An id has digits 2-9 and plain letters only.")
            )
            raise _bad_id(text, title, f'Look at character {place} ("{character}") again. {hint}')
    if len(characters) != ID_LENGTH:
        title = f"An id has {ID_LENGTH} characters; this has {len(characters)}."
        raise _bad_id(text, title, "Read the id beside the code on the tag, both groups of four.")
    if check_sum(characters):
        raise _bad_id(text, "A character of this id is wrong, or two are swapped.",
                      "Read the tag again. Look closely at 8 and B, 5 and S, 2 and Z, U and V.")  # fmt: skip
    return characters


def _id_part(text: str) -> str:
    """Return the part of the text that should be the id: after the tag's head, or at an address's end."""
    if text.startswith(HEAD):
        rest = text[len(HEAD) :].split(maxsplit=2)
        if len(rest) > 1 and len(rest[0]) == ID_LENGTH // 2 == len(rest[1]) and rest[1] != DEMO:
            return rest[0] + rest[1]
        return rest[0] if rest else ""
    return re.split(r"[/=#]", text.rstrip("/"))[-1]


def _bad_id(given: object, title: str, next_step: str) -> Problem:
    return Problem("bad-id", title, given=given, allowed=ID_SHAPE, next_step=next_step, field="id", status=400)


def plain(text: str) -> str:
    """Return any text in the QR set: upper case, × as X, ⅝ as -5/8, accents dropped, others a space.

    Parameters
    ----------
    text : str

    Returns
    -------
    str
        Characters of the alphanumeric mode, without colons.

    Source: ISO/IEC 18004, alphanumeric mode; the spelling: common practice, no source.

    >>> plain("1⅝ × .120, Niccolò's 1020 DOM: 60°")
    '1-5/8 X .120 NICCOLO S 1020 DOM 60'
    """
    spelled = ""
    for character in text:
        if unicodedata.decomposition(character).startswith("<fraction>"):
            spelled += ("-" if spelled[-1:].isdigit() else "") + unicodedata.normalize("NFKD", character)
        else:
            spelled += " IN " if character in '"″”' else character
    spelled = spelled.translate(MARKS).replace("×", "X").replace(":", " ")
    upper = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", spelled).upper())
    kept = "".join(c if c in QR_CHARACTERS else " " for c in upper if not unicodedata.combining(c))
    return " ".join(kept.replace(":", " ").split())


def payload(essentials: TagEssentials, demo: bool = False) -> str:
    """Return the QR text of a tag.

    PITSPLICE, the id, DEMO if it is one, then KEY:text for each essential that is not
    empty. Free text is made plain. Where all of it is over 154 characters the longest
    text is cut from its end and marked with two dots; the id is never cut.

    Parameters
    ----------
    essentials : TagEssentials
        Any texts; the id must be whole.
    demo : bool
        Whether the record is a demonstration, not a repair.

    Returns
    -------
    str
        At most 154 characters of the alphanumeric set.

    Raises
    ------
    Problem
        "bad-id" (400): the id is not whole.

    Source: ISO/IEC 18004, alphanumeric mode; 154 characters at version 6-M checked
    against the qrcode library. The layout of the text: common practice, no source.

    >>> payload(TagEssentials("7K3M9QX3", "1.625 × .120 DOM 1020", "1.875 × .120 DOM 1020",
    ...     "pointed", "60", "8-1/8 in", "2026-11-25", ""))
    'PITSPLICE 7K3M-9QX3 TUBE:1.625X.120 DOM 1020 SLEEVE:1.875X.120 DOM 1020 END:POINTED MITRE:60 LEN:8-1/8 IN DATE:2026-11-25'
    """
    head = f"{HEAD} {id_text(read_id(essentials.id))}{f' {DEMO}' if demo else ''}"
    texts = {key: _tight(plain(getattr(essentials, field))) for field, key in KEYS.items()}
    while True:
        line = " ".join([head, *(f"{key}:{text}" for key, text in texts.items() if text)])
        over = len(line) - LONGEST_PAYLOAD
        if over <= 0:
            return line
        longest = max(texts, key=lambda key: len(texts[key]))
        second = max(len(text) for key, text in texts.items() if key != longest)
        kept = texts[longest].removesuffix(CUT)
        keep = max(len(texts[longest]) - over - len(CUT), min(second, len(kept) - 1))
        texts[longest] = kept[: min(keep, len(kept) - 1)].rstrip() + CUT


def _tight(text: str) -> str:
    """Close up "1.625 X .120": two characters fewer, and read the same."""
    return re.sub(r"(?<=\d) X (?=[\d.])", "X", text)


def read_payload(text: str) -> dict[str, Any]:
    """Return what a tag's QR text says.

    Parameters
    ----------
    text : str
        A scanned text.

    Returns
    -------
    dict
        "essentials" (TagEssentials, texts in the plain QR form), "id" and "demo".

    Raises
    ------
    Problem
        "bad-tag" (400): not a tag's text, or a key given twice. "bad-id" (400): its id is not whole.

    Source: the inverse of `payload`.

    >>> read_payload("PITSPLICE 7K3M-9QX3 DEMO TUBE:1.625X.120 DOM 1020 LEN:8-1/8 IN")["essentials"].length
    '8-1/8 IN'
    """
    line = " ".join(text.upper().split()) if isinstance(text, str) and len(text) <= LONGEST_TYPED else ""
    if not line.startswith(f"{HEAD} "):
        raise _bad_tag(text, "This code is not a tag of this program.")
    first, *parts = KEY_START.split(line)
    keys, texts = parts[::2], parts[1::2]
    if len(set(keys)) != len(keys):
        raise _bad_tag(text, "This tag gives the same thing twice.")
    head = HEAD_LINE.fullmatch(first)
    if not head:
        raise _bad_tag(text, "The start of this tag cannot be read.")
    said = {FIELDS[key]: part.strip() for key, part in zip(keys, texts, strict=True)}
    essentials = TagEssentials(id=read_id(head["id"]), **{**dict.fromkeys(KEYS, ""), **said})
    return {"id": essentials.id, "demo": bool(head["demo"]), "essentials": essentials}


def _bad_tag(given: object, title: str) -> Problem:
    allowed = f"a text that starts with {HEAD} and an id"
    next_step = "Scan the code beside the id on the tag, or type the id."
    return Problem("bad-tag", title, given=given, allowed=allowed, next_step=next_step, field="tag", status=400)
