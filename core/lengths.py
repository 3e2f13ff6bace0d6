"""Read a length exactly as a person types it in a shop.

The reader keeps exact fractions and never guesses: an input with two readings is
refused with a question. Nothing goes to a general unit parser, because those read
``1 1/2 in`` as a division.

Grammar: a mixed number (``1-5/8``, ``1 5/8``, ``1⅝``), a fraction, a decimal or a whole
number, then a unit (in, ", ft, ', mm, cm, m, thou, ga); or feet followed by inches.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from core.gauges import GAUGE_INCHES
from core.problems import Problem
from core.quantity import decimal_text, inch_fraction_text, thousandths_text
from core.units import INCHES_PER

LONGEST_TEXT = 40
UNIT_NAMES = {
    "in": "in", "inch": "in", "inches": "in", '"': "in", "''": "in",
    "ft": "ft", "foot": "ft", "feet": "ft", "'": "ft",
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "thou": "thou", "thousandths": "thou",
    "ga": "ga", "gauge": "ga", "gage": "ga", "bwg": "ga",
}  # fmt: skip
MARKS = str.maketrans({
    "′": "'", "’": "'", "‘": "'", "ʹ": "'", "″": '"', "”": '"', "“": '"', "〃": '"',
    "‐": "-", "‑": "-", "‒": "-", "–": "-", "—": "-", "−": "-", "⁄": "/", "∕": "/", "÷": "/",
})  # fmt: skip

NUMBER = r"(?:(?P<whole>\d+)(?P<join>\s*-\s*|\s+)(?P<top>\d+)\s*/\s*(?P<bottom>\d+)|(?P<ftop>\d+)\s*/\s*(?P<fbottom>\d+)|(?P<dec>\d+\.\d*|\.\d+|\d+))"
UNIT = r"(?P<unit>[a-z]+\.?|''|\"|')?"
ONE = re.compile(rf"{NUMBER}\s*-?\s*{UNIT}", re.ASCII)
FEET_INCHES = re.compile(
    r"(?P<feet>\d+)\s*-?\s*(?:ft\.?|foot|feet|')\s*-?\s*(?P<rest>\d.*|\.\d.*)", re.ASCII
)

FORMS = "a number with a unit, such as 1-5/8 in, 1.625 in, 41.3 mm, 134 thou, 2 ft 3 in"


@dataclass(frozen=True)
class Length:
    """A length read from text.

    Attributes
    ----------
    inches : Fraction
        The exact value, in inches.
    typed : str
        The text as it was typed.
    unit : str
        The unit it was given in: in, ft, mm, cm, m, thou or ga; "in" or "mm" where the
        text named none and the caller's default filled it in.
    """

    inches: Fraction
    typed: str
    unit: str

    @property
    def mm(self) -> Fraction:
        """The exact value in millimetres."""
        return self.inches * INCHES_PER["mm"] ** -1

    def __float__(self) -> float:
        return float(self.inches)

    @property
    def is_metric(self) -> bool:
        """Whether it was given in a metric unit."""
        return self.unit in ("mm", "cm", "m")

    def echo(self) -> str:
        """Return how the text was understood, as an equation in inches and millimetres.

        >>> read_length("1-5/8 in").echo()
        '1-5/8 in = 1.625 in = 41.28 mm'
        >>> read_length("10 ga", role="wall").echo()
        '10 ga = 0.134 in = 3.4 mm'
        """
        parts = []
        on_ruler = self.inches.denominator in (1, 2, 4, 8, 16, 32, 64)
        if self.unit == "ga":
            parts.append(f"{GAUGE_NUMBER[self.inches]} ga")
        elif on_ruler and self.inches.denominator > 1:
            parts.append(inch_fraction_text(self.inches))
        decimal = decimal_text(self.inches, 4) if on_ruler else thousandths_text(self.inches)
        inches, mm = f"{decimal} in", f"{decimal_text(self.mm, 2)} mm"
        parts += [mm, inches] if self.is_metric else [inches, mm]
        return " = ".join(parts)


GAUGE_NUMBER = {value: number for number, value in GAUGE_INCHES.items()}


def read_length(
    text: object, *, role: str = "length", default_unit: str = "in", allow_zero: bool = False
) -> Length:
    """Read one length.

    Parameters
    ----------
    text : str
        What was typed, at most 40 characters.
    role : {"length", "wall", "diameter"}
        What it measures. Gauge numbers are walls only; a bare whole number for a wall in
        inches is questioned.
    default_unit : {"in", "mm"}
        The unit of a number without one.
    allow_zero : bool
        Whether zero is a value here (a gap) or a mistake.

    Returns
    -------
    Length

    Raises
    ------
    Problem
        ``bad-length`` for text that is no length, ``ask-length`` where it has two readings.

    Notes
    -----
    Source of the accepted forms: shop practice; of the gauge numbers: `core.gauges`.

    >>> read_length("1 1/2 in").inches
    Fraction(3, 2)
    >>> read_length("2 ft 3 in").inches
    Fraction(27, 1)
    """
    if not isinstance(text, str):
        raise Problem(
            "bad-length", "A length must be text.", given=text, allowed=f"{FORMS}.",
            next_step="Put the length in quotes, with its unit.",
        )  # fmt: skip
    typed = text.strip()
    clean = _clean(typed)
    if not clean:
        raise _refuse(typed, "No length was given.", "Type the length with its unit.")
    if len(typed) > LONGEST_TEXT:
        raise _refuse(typed, "That is too long for a length.", "Type only the number and its unit.")
    if "," in clean:
        point = clean.replace(",", ".")
        raise _ask(typed, f"Is the comma a decimal point ({point}) or a thousands mark ({clean.replace(',', '')})?",
                   "Type it again with a point, or without the comma.")  # fmt: skip
    if clean.startswith("-") or re.search(r"\(\s*-", clean):
        raise _refuse(typed, "A length cannot be negative.", "Measure again and type it without the minus.")
    inches, unit = _feet_inches(typed, clean) or _single(typed, clean, role, default_unit)
    if inches == 0 and not allow_zero:
        raise _refuse(typed, "A length of zero is no measurement.", "Measure it and type what you read.")
    return Length(inches, typed, unit)


def _clean(typed: str) -> str:
    """Return the text in lower-case ASCII forms, vulgar fractions set off by a space."""
    spaced = "".join(
        f" {c}" if unicodedata.decomposition(c).startswith("<fraction>") else c for c in typed
    )
    return unicodedata.normalize("NFKC", spaced.translate(MARKS)).translate(MARKS).strip().lower()


def _feet_inches(typed: str, clean: str) -> tuple[Fraction, str] | None:
    found = FEET_INCHES.fullmatch(clean)
    if not found:
        return None
    rest, unit = _single(typed, found["rest"].strip(), "length", "in")
    if unit != "in":
        raise _refuse(typed, "Feet go with inches only.", "Type it as feet and inches, or in one unit.")
    if rest >= 12:
        raise _ask(typed, "The inches after the feet come to a foot or more. Is one of the two wrong?",
                   "Type feet and inches under 12, or inches alone.")  # fmt: skip
    return int(found["feet"]) * Fraction(12) + rest, "ft"


def _single(typed: str, clean: str, role: str, default_unit: str) -> tuple[Fraction, str]:
    found = ONE.fullmatch(clean)
    if not found:
        raise _refuse(typed, "That is not a length this reads.", "Type a whole number, a fraction or a decimal, then the unit.")
    number, is_whole = _number(typed, found)
    name = (found["unit"] or "").rstrip(".")
    if name == "mil" or name == "mils":
        raise _ask(typed, "Is that thousandths of an inch or millimetres?", "Type thou or mm.")
    if not name:
        if role == "wall" and is_whole and default_unit == "in" and number > 0:
            raise _ask_wall(typed, int(number))
        name = default_unit
    unit = UNIT_NAMES.get(name)
    if unit is None:
        raise _refuse(typed, f"The unit {name!r} is not known.", "Use in, ft, mm, cm, m, thou or, for a wall, ga.")
    if unit == "ga":
        return _gauge(typed, number, is_whole, role), unit
    return number * INCHES_PER[unit], unit


def _number(typed: str, found: re.Match[str]) -> tuple[Fraction, bool]:
    top, bottom = found["top"] or found["ftop"], found["bottom"] or found["fbottom"]
    if not top:
        return Fraction(found["dec"].rstrip(".") if found["dec"] != "." else "0"), "." not in found["dec"]
    if int(bottom) == 0:
        raise _refuse(typed, "A fraction cannot be over zero.", "Type the fraction again.")
    part = Fraction(int(top), int(bottom))
    if found["whole"] is None:
        return part, False
    if part >= 1:
        whole = int(found["whole"])
        raise _ask(typed, f"The fraction is one or more. Is it {whole + part} in all, or is a digit wrong?",
                   "Type a fraction under one after the whole number.")  # fmt: skip
    return int(found["whole"]) + part, False


def _gauge(typed: str, number: Fraction, is_whole: bool, role: str) -> Fraction:
    if role != "wall":
        raise _refuse(typed, "A gauge number is a wall, not a length.", "Type the length in inches or millimetres.")
    if not is_whole or int(number) not in GAUGE_INCHES:
        known = f"{min(GAUGE_INCHES)} to {max(GAUGE_INCHES)}"
        raise Problem(
            "bad-length", "That gauge is not in the tubing gauge table.", given=typed,
            allowed=f"whole tubing gauges (BWG) {known}.",
            next_step="Measure the wall and type it in inches or millimetres.",
        )  # fmt: skip
    return GAUGE_INCHES[int(number)]


def _ask_wall(typed: str, number: int) -> Problem:
    """Return the question for a bare whole number: only readings that could be a wall."""
    readings = [f"{number} thou"] if number >= 20 else []
    readings += [f"{number} ga"] if number in GAUGE_INCHES else []
    readings += [f"{number} mm"] if number <= 19 else []
    choice = " or ".join(readings)
    return _ask(typed, f"{choice}?", f"Type it with its unit: {choice}.")


def _refuse(typed: str, title: str, next_step: str) -> Problem:
    return Problem("bad-length", title, given=typed, allowed=f"{FORMS}.", next_step=next_step)


def _ask(typed: str, question: str, next_step: str) -> Problem:
    return Problem("ask-length", question, given=typed, allowed=f"{FORMS}.", next_step=next_step)
