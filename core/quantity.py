"""What a person reads: the one place where a length is rounded, and which way.

Lengths that must be long enough round up, lengths that are available round down, and
readings round to nearest. Values stay unrounded in the ``mm`` and ``in`` members.
Lengths in inches. Source of the rounding steps (1/16 in, 1 mm, .001 in, .01 mm): common practice, no source.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any, Literal

from core.units import MM_PER_INCH

Way = Literal["up", "down", "near"]
# A computed length may sit above a ruler mark by rounding error alone: 1 part in 10^9.
SLACK = 1e-9


def round_to(value: float, step: float, way: Way) -> float:
    """Return `value` moved to a multiple of `step`, the given way.

    A value within 1e-9 steps of a mark counts as on it, and one within 1e-9 steps of the
    middle as the middle, which goes to the even mark: its last bit decides no text.

    >>> round_to(8.123, 1 / 16, "up")
    8.125
    >>> round_to(8.125, 1 / 16, "up")
    8.125
    >>> 0.0215 / 0.001, round_to(0.0215, 0.001, "near")
    (21.499999999999996, 0.022)
    """
    steps = value / step
    low = math.floor(steps)
    nearest = round(low + 0.5 if abs(steps - low - 0.5) < SLACK else steps)
    if way == "near" or abs(steps - nearest) < SLACK * max(1.0, abs(steps)):
        return nearest * step
    return (math.ceil(steps) if way == "up" else math.floor(steps)) * step


def decimal_text(value: Fraction | float, places: int) -> str:
    """Return a decimal without trailing zeros, at most `places` of them, halves rounded up.

    >>> decimal_text(Fraction(13, 8), 4), decimal_text(Fraction(1651, 40), 2)
    ('1.625', '41.28')
    """
    scaled = Fraction(value) * 10**places
    whole = math.floor(scaled + Fraction(1, 2))
    text = f"{whole / 10**places:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def thousandths_text(inches: Fraction) -> str:
    """Return decimal inches with at least the three places a shop reads a wall by.

    >>> thousandths_text(Fraction(12, 100)), thousandths_text(Fraction(81299, 50000))
    ('0.120', '1.626')
    """
    text = decimal_text(inches, 4)
    whole, _, places = text.partition(".")
    return f"{whole}.{places:0<3}"


def inch_fraction_text(inches: Fraction | float, finest: int = 64) -> str:
    """Return inches as a shop fraction ("1-5/8 in"), or "" if it is on no 1/`finest` mark.

    >>> inch_fraction_text(Fraction(13, 8)), inch_fraction_text(Fraction(1, 3))
    ('1-5/8 in', '')
    """
    steps = inches * finest
    if abs(steps - round(steps)) > 1e-6:
        return ""
    exact = Fraction(round(steps), finest)
    sign, exact = ("-" if exact < 0 else ""), abs(exact)
    whole, part = divmod(exact, 1)
    if not part:
        return f"{sign}{whole} in"
    return f"{sign}{f'{whole}-' if whole else ''}{part.numerator}/{part.denominator} in"


def ruler_text(inches: float, metric: bool, way: Way, step: float | None = None) -> str:
    """Return a length as read off the shop's ruler: 1/16 in, or 1 mm.

    >>> ruler_text(8.123, False, "up"), ruler_text(8.123, True, "up")
    ('8-1/8 in', '207 mm')
    """
    if metric:
        return f"{decimal_text(round_to(inches * float(MM_PER_INCH), step or 1.0, way), 2)} mm"
    return inch_fraction_text(round_to(inches, step or 1 / 16, way))


def fine_text(inches: float, metric: bool, way: Way = "near") -> str:
    """Return a length to a thousandth of an inch or a hundredth of a millimetre.

    >>> fine_text(0.01, False), fine_text(0.01, True)
    ('0.010 in', '0.25 mm')
    """
    if metric:
        return f"{round_to(inches * float(MM_PER_INCH), 0.01, way):.2f} mm"
    return f"{round_to(inches, 0.001, way):.3f} in"


def mark_text(inches: float, metric: bool, way: Way = "near") -> str:
    """Return a length as its shop fraction where it lies on a 1/64 in mark, else to a thousandth.

    >>> mark_text(8.1875, False), mark_text(8.19, False), mark_text(1.0, True)
    ('8-3/16 in', '8.190 in', '25.40 mm')
    """
    return (not metric and inch_fraction_text(inches)) or fine_text(inches, metric, way)


def near(inches: float, metric: bool) -> dict[str, Any]:
    """Return a reading as a quantity, its text rounded to nearest.

    >>> near(0.0104, False)["text"]
    '0.010 in'
    """
    return quantity(inches, fine_text(inches, metric, "near"))


def down(inches: float, metric: bool) -> dict[str, Any]:
    """Return what is available as a quantity, its text rounded down.

    >>> down(0.0109, False)["text"]
    '0.010 in'
    """
    return quantity(inches, fine_text(inches, metric, "down"))


def up(inches: float, metric: bool) -> dict[str, Any]:
    """Return what is needed as a quantity, its text rounded up.

    >>> up(0.0101, False)["text"]
    '0.011 in'
    """
    return quantity(inches, fine_text(inches, metric, "up"))


def quantity(inches: float, text: str) -> dict[str, Any]:
    """Return the JSON form of a length: unrounded millimetres and inches, and its text.

    >>> quantity(2.0, "2 in")
    {'mm': 50.8, 'in': 2.0, 'text': '2 in'}
    """
    return {"mm": float(inches) * float(MM_PER_INCH), "in": float(inches), "text": text}
